#include "tedge/base/uuid.hpp"

#include <fmt/format.h>
#include <openssl/rand.h>

#include <cstring>
#include <stdexcept>

namespace tedge {

namespace {

int hex_value(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

bool is_hyphen_place(std::size_t at) {
    return at == 8 || at == 13 || at == 18 || at == 23;
}

}  // namespace

std::string to_text(const Uuid& id) {
    std::string text;
    text.reserve(36);
    constexpr std::string_view digits = "0123456789abcdef";
    for (const std::uint8_t byte : id.bytes) {
        if (is_hyphen_place(text.size())) text += '-';
        text += digits[byte >> 4U];
        text += digits[byte & 15U];
    }
    return text;
}

Expected<Uuid> parse_uuid(std::string_view text) {
    Uuid id;
    std::size_t digit = 0;
    bool well_formed = text.size() == 36;
    for (std::size_t i = 0; i < text.size() && well_formed; ++i) {
        if (is_hyphen_place(i)) {
            well_formed = text[i] == '-';
            continue;
        }
        const int value = hex_value(text[i]);
        well_formed = value >= 0;
        if (!well_formed) break;
        id.bytes[digit / 2] = static_cast<std::uint8_t>(id.bytes[digit / 2] * 16U + static_cast<unsigned>(value));
        ++digit;
    }
    if (!well_formed) {
        return fail("uuid.not-an-id", fmt::format("\"{}\" is not an identifier.", text),
                    "Copy the id as a list shows it.", {{"text", std::string(text)}});
    }
    return id;
}

void fill_random(std::uint8_t* out, std::size_t count) {
    if (RAND_bytes(out, static_cast<int>(count)) != 1) {
        throw std::runtime_error("the system's random generator does not answer");
    }
}

Uuid SystemIdSource::next() {
    Uuid id;
    fill_random(id.bytes.data() + 8, 8);
    const std::lock_guard lock(guard_);
    std::int64_t ms = clock_->now().time_since_epoch().count();
    if (ms > last_ms_) {
        counter_ = 0;
    } else {
        // A clock that stands still or steps back: go on counting, and borrow a millisecond when the counter is full.
        ms = last_ms_;
        if (++counter_ > 0x0FFF) {
            counter_ = 0;
            ++ms;
        }
    }
    last_ms_ = ms;
    for (std::size_t i = 0; i < 6; ++i) id.bytes[i] = static_cast<std::uint8_t>(ms >> (40 - 8 * i));
    id.bytes[6] = static_cast<std::uint8_t>(0x70U | (counter_ >> 8U));
    id.bytes[7] = static_cast<std::uint8_t>(counter_ & 0xFFU);
    id.bytes[8] = static_cast<std::uint8_t>(0x80U | (id.bytes[8] & 0x3FU));
    return id;
}

}  // namespace tedge

std::size_t std::hash<tedge::Uuid>::operator()(const tedge::Uuid& id) const noexcept {
    // The last eight bytes are random already.
    std::size_t value = 0;
    std::memcpy(&value, id.bytes.data() + 8, sizeof value);
    return value;
}
