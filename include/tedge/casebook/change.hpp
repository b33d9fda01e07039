// One entry of the change log: written once, hashed as it is stored, never updated. Only a payload may leave it.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "tedge/base/clock.hpp"
#include "tedge/base/digest.hpp"
#include "tedge/base/error.hpp"
#include "tedge/base/uuid.hpp"

namespace tedge::casebook {

enum class Operation { create, patch, remove, restore, resolve, erase };

using tedge::to_text;  // of instants and ids, beside those of this namespace

// "create", "patch", "delete", "restore", "resolve", "erase"
[[nodiscard]] std::string_view to_text(Operation operation);
[[nodiscard]] std::optional<Operation> parse_operation(std::string_view text);

// Hybrid logical clock (Kulkarni et al., Logical Physical Clocks, OPODIS 2014): wall time in milliseconds, and a count
// that orders what happened within one of them or after a message from a clock ahead of ours.
struct HybridTime {
    std::int64_t ms = 0;
    std::int64_t count = 0;
    friend auto operator<=>(const HybridTime&, const HybridTime&) = default;
};

using Salt = std::array<std::uint8_t, 16>;

// UTF-8 JSON text with sorted keys and no spaces, exactly as it was hashed, and the salt of its digest.
struct Payload {
    std::string text;
    Salt salt{};
    friend bool operator==(const Payload&, const Payload&) = default;
};

struct Change {
    Uuid id;
    Uuid replica;
    Uuid case_id;             // nil for what belongs to the whole book
    std::int64_t number = 0;  // 1, 2, 3 … within (replica, case)
    Uuid author;              // a person's record
    HybridTime clock;
    Instant time;
    Uuid record;
    std::string kind;
    int schema = 1;
    Operation operation = Operation::create;
    std::vector<Uuid> seen;                 // the record's newest changes when this one was made, sorted
    std::optional<Payload> public_payload;  // absent: erased, or not meant for this reader
    Sha256Digest public_digest{};
    std::optional<Payload> personal_payload;
    Sha256Digest personal_digest{};
    std::string reason;
    Sha256Digest previous{};  // hash of number - 1; zeros for number 1
    Sha256Digest hash{};
    // False for what came from somebody whose role may not do it: kept and passed on, but not folded into the record.
    // A mark of this book beside the change, not part of what is hashed.
    bool admitted = true;

    friend bool operator==(const Change&, const Change&) = default;
};

// SHA-256(salt ‖ text)
[[nodiscard]] Sha256Digest payload_digest(const Payload& payload);
// SHA-256(version ‖ length-prefixed header fields ‖ public digest ‖ personal digest ‖ previous hash)
[[nodiscard]] Sha256Digest change_hash(const Change& change);
[[nodiscard]] bool fits_digest(const std::optional<Payload>& payload, const Sha256Digest& digest);  // absent fits
// What is wrong with it by itself: a payload that does not fit its digest, a hash that does not fit its fields.
[[nodiscard]] std::vector<std::string> faults_of(const Change& change);

// Whether an erasure among the record's changes is one that somebody who had these changes before him could not know
// of: what he wrote of persons since must not come into the book.
[[nodiscard]] bool erased_since(const std::vector<Change>& history, const std::vector<Uuid>& seen);

}  // namespace tedge::casebook
