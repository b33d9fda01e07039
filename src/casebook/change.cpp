#include "tedge/casebook/change.hpp"

#include <array>

#include "canonical_json.hpp"

namespace tedge::casebook {

namespace {

constexpr std::array<std::string_view, 6> operation_words{"create", "patch", "delete", "restore", "resolve", "erase"};
constexpr std::string_view hash_version = "tedge-change-1";

// Each field with its length in front, so that no two different headers give the same bytes.
void feed(Hasher& hasher, std::string_view field) {
    std::array<std::uint8_t, 8> length{};
    for (std::size_t i = 0; i < 8; ++i) length[i] = static_cast<std::uint8_t>(field.size() >> (56 - 8 * i));
    hasher.update(length);
    hasher.update(field);
}
void feed(Hasher& hasher, const Uuid& id) {
    hasher.update(id.bytes);
}
void feed(Hasher& hasher, std::int64_t number) {
    feed(hasher, std::string_view(std::to_string(number)));
}

}  // namespace

std::string_view to_text(Operation operation) {
    return operation_words[static_cast<std::size_t>(operation)];
}

std::optional<Operation> parse_operation(std::string_view text) {
    for (std::size_t i = 0; i < operation_words.size(); ++i) {
        if (operation_words[i] == text) return static_cast<Operation>(i);
    }
    return std::nullopt;
}

Sha256Digest payload_digest(const Payload& payload) {
    Hasher hasher(HashAlgorithm::sha256);
    hasher.update(payload.salt);
    hasher.update(payload.text);
    return hasher.finish_sha256();
}

Sha256Digest change_hash(const Change& change) {
    Hasher hasher(HashAlgorithm::sha256);
    hasher.update(hash_version);
    feed(hasher, change.id);
    feed(hasher, change.replica);
    feed(hasher, change.case_id);
    feed(hasher, change.number);
    feed(hasher, change.author);
    feed(hasher, change.clock.ms);
    feed(hasher, change.clock.count);
    feed(hasher, to_text(change.time));
    feed(hasher, change.record);
    feed(hasher, change.kind);
    feed(hasher, change.schema);
    feed(hasher, to_text(change.operation));
    feed(hasher, static_cast<std::int64_t>(change.seen.size()));
    for (const Uuid& seen : change.seen) feed(hasher, seen);
    feed(hasher, change.reason);
    hasher.update(change.public_digest);
    hasher.update(change.personal_digest);
    hasher.update(change.previous);
    return hasher.finish_sha256();
}

bool fits_digest(const std::optional<Payload>& payload, const Sha256Digest& digest) {
    return !payload || payload_digest(*payload) == digest;
}

std::vector<std::string> faults_of(const Change& change) {
    std::vector<std::string> faults;
    if (!fits_digest(change.public_payload, change.public_digest)) {
        faults.emplace_back("its public payload does not fit its digest");
    }
    if (!fits_digest(change.personal_payload, change.personal_digest)) {
        faults.emplace_back("its personal payload does not fit its digest");
    }
    if (change_hash(change) != change.hash) faults.emplace_back("its hash does not fit its fields");
    for (const auto* payload : {&change.public_payload, &change.personal_payload}) {
        if (payload->has_value() && !parse_json((*payload)->text)) {
            faults.emplace_back("a payload of it cannot be read");
        }
    }
    return faults;
}

}  // namespace tedge::casebook
