// Time and ids that a test decides.
#pragma once

#include "tedge/base/clock.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge {

// Stands still until it is moved.
class FixedClock final : public Clock {
public:
    explicit FixedClock(std::string_view start = "2026-03-03T09:00:00Z") : now_(parse_instant(start).value()) {}
    [[nodiscard]] Instant now() override { return now_; }
    void advance(std::chrono::milliseconds by) { now_ += by; }

private:
    Instant now_;
};

// 1, 2, 3 … in the last bytes, with the version and variant bits of UUIDv7.
class CountingIds final : public IdSource {
public:
    explicit CountingIds(std::uint8_t series = 0) : series_(series) {}
    [[nodiscard]] Uuid next() override {
        ++count_;
        Uuid id;
        id.bytes[0] = series_;
        id.bytes[6] = 0x70;
        id.bytes[8] = 0x80;
        for (std::size_t i = 0; i < 4; ++i) id.bytes[15 - i] = static_cast<std::uint8_t>(count_ >> (8 * i));
        return id;
    }

private:
    std::uint8_t series_;
    std::uint32_t count_ = 0;
};

}  // namespace tedge
