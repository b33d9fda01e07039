// Identifiers: UUID version 7 (RFC 9562 section 5.7), so that ids sort by the time they were made.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <functional>
#include <mutex>
#include <string>
#include <string_view>

#include "tedge/base/clock.hpp"
#include "tedge/base/error.hpp"

namespace tedge {

struct Uuid {
    std::array<std::uint8_t, 16> bytes{};

    [[nodiscard]] bool is_nil() const { return *this == Uuid{}; }
    friend auto operator<=>(const Uuid&, const Uuid&) = default;
};

// Lower-case with hyphens: "019ab5d8-…".
[[nodiscard]] std::string to_text(const Uuid& id);
// Errors: uuid.not-an-id. Upper case is taken; hyphens must stand where RFC 9562 puts them.
[[nodiscard]] Expected<Uuid> parse_uuid(std::string_view text);

class IdSource {
public:
    virtual ~IdSource() = default;
    [[nodiscard]] virtual Uuid next() = 0;
};

// Random bits from the operating system; ids made in one millisecond still ascend (RFC 9562 section 6.2, method 1).
// Safe to use from several threads.
class SystemIdSource final : public IdSource {
public:
    explicit SystemIdSource(Clock& clock) : clock_(&clock) {}
    [[nodiscard]] Uuid next() override;

private:
    Clock* clock_;
    std::mutex guard_;
    std::int64_t last_ms_ = 0;
    std::uint16_t counter_ = 0;
};

// Fills the range with bytes from the operating system's generator; used for ids and salts.
void fill_random(std::uint8_t* out, std::size_t count);

}  // namespace tedge

template <>
struct std::hash<tedge::Uuid> {
    std::size_t operator()(const tedge::Uuid& id) const noexcept;
};
