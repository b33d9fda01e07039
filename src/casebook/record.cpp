#include "tedge/casebook/record.hpp"

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "canonical_json.hpp"

namespace tedge::casebook {

namespace {

using nlohmann::json;

json point_list(const std::vector<PointMm>& points) {
    json list = json::array();
    for (const PointMm& p : points) list.push_back(json::array({p.x_mm, p.y_mm}));
    return list;
}

json to_json(const BsplineDisplacement& field) {
    return {{"origin_mm", {field.origin().x_mm, field.origin().y_mm}},
            {"spacing_mm", field.spacing_mm()},
            {"columns", field.columns()},
            {"rows", field.rows()},
            {"coefficients_mm", point_list(field.coefficients_mm())}};
}

std::optional<PointMm> read_point(const json& value) {
    if (!value.is_array() || value.size() != 2 || !value[0].is_number() || !value[1].is_number()) return std::nullopt;
    return PointMm{value[0].get<double>(), value[1].get<double>()};
}

std::optional<BsplineDisplacement> read_displacement(const json& value) {
    if (!value.is_object() || !value.contains("coefficients_mm") || !value["coefficients_mm"].is_array()) {
        return std::nullopt;
    }
    std::vector<PointMm> coefficients;
    for (const json& item : value["coefficients_mm"]) {
        const auto point = read_point(item);
        if (!point) return std::nullopt;
        coefficients.push_back(*point);
    }
    const auto origin = value.contains("origin_mm") ? read_point(value["origin_mm"]) : std::nullopt;
    const auto number = [&](const char* name) {
        return value.contains(name) && value[name].is_number() ? value[name].get<double>() : 0.0;
    };
    // A body from elsewhere may say anything; more than this no int may be asked to hold.
    constexpr double most_lines = 1e6;
    const bool countable = std::abs(number("columns")) <= most_lines && std::abs(number("rows")) <= most_lines;
    if (!origin || !countable) return std::nullopt;
    auto made = BsplineDisplacement::make(*origin, number("spacing_mm"), static_cast<int>(number("columns")),
                                          static_cast<int>(number("rows")), std::move(coefficients));
    return made ? std::optional(*std::move(made)) : std::nullopt;
}

}  // namespace

Body::Body() : fields_(std::make_shared<const json>(json::object())) {}
Body::Body(json fields) : fields_(std::make_shared<const json>(std::move(fields))) {}

bool operator==(const Body& a, const Body& b) {
    return *a.fields_ == *b.fields_;
}

const json* Body::at(std::string_view path) const {
    return value_at(*fields_, path);
}

bool Body::has(std::string_view path) const {
    return at(path) != nullptr;
}

std::optional<std::string> Body::text(std::string_view path) const {
    const json* value = at(path);
    return value != nullptr && value->is_string() ? std::optional(value->get<std::string>()) : std::nullopt;
}

std::string Body::text_or(std::string_view path, std::string_view otherwise) const {
    return text(path).value_or(std::string(otherwise));
}

std::optional<double> Body::number(std::string_view path) const {
    const json* value = at(path);
    return value != nullptr && value->is_number() ? std::optional(value->get<double>()) : std::nullopt;
}

std::optional<std::int64_t> Body::integer(std::string_view path) const {
    const json* value = at(path);
    if (value == nullptr || !value->is_number_integer()) return std::nullopt;
    constexpr auto most = static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());
    if (value->is_number_unsigned() && value->get<std::uint64_t>() > most) return std::nullopt;
    return value->get<std::int64_t>();
}

bool Body::flag(std::string_view path) const {
    const json* value = at(path);
    return value != nullptr && value->is_boolean() && value->get<bool>();
}

std::optional<Money> Body::money(std::string_view path) const {
    const auto minor = integer(std::string(path) + "/minor");
    const auto currency = Currency::parse(text_or(std::string(path) + "/currency"));
    return minor && currency ? std::optional(Money{*minor, *currency}) : std::nullopt;
}

std::optional<Body::MoneyEstimate> Body::money_estimate(std::string_view path) const {
    const std::string at_path(path);
    const auto low = integer(at_path + "/low");
    const auto likely = integer(at_path + "/likely");
    const auto high = integer(at_path + "/high");
    const auto currency = Currency::parse(text_or(at_path + "/currency"));
    if (!low || !likely || !high || !currency) return std::nullopt;
    return MoneyEstimate{{*low, *likely, *high}, *currency};
}

std::optional<Uuid> Body::record(std::string_view path) const {
    const auto written = text(path);
    const auto id = written ? parse_uuid(*written) : Expected<Uuid>(fail("", ""));
    return id ? std::optional(*id) : std::nullopt;
}

std::optional<Region> Body::region(std::string_view path) const {
    const json* value = at(path);
    if (value == nullptr || !value->is_object()) return std::nullopt;
    auto read = Region::from_geojson(canonical(*value));
    return read ? std::optional(*std::move(read)) : std::nullopt;
}

std::optional<Placement> Body::placement(std::string_view path) const {
    const json* value = at(path);
    if (value == nullptr || !value->is_object() || !value->contains("homography")) return std::nullopt;
    const json& numbers = (*value)["homography"];
    std::array<double, 9> h{};
    if (!numbers.is_array() || numbers.size() != h.size()) return std::nullopt;
    for (std::size_t i = 0; i < h.size(); ++i) {
        if (!numbers[i].is_number()) return std::nullopt;
        h[i] = numbers[i].get<double>();
    }
    const auto map = Homography::from_row_major(h);
    if (!map) return std::nullopt;
    Placement placement;
    placement.face_from_photo = *map;
    if (value->contains("displacement")) placement.displacement = read_displacement((*value)["displacement"]);
    if (value->contains("error_mm") && (*value)["error_mm"].is_number())
        placement.error_mm = (*value)["error_mm"].get<double>();
    return placement;
}

std::vector<std::string> Body::keys(std::string_view path) const {
    const json* value = path.empty() ? fields_.get() : at(path);
    std::vector<std::string> keys;
    if (value == nullptr || !value->is_object()) return keys;
    for (const auto& [key, item] : value->items()) keys.push_back(key);
    return keys;
}

std::string Body::canonical_json() const {
    return canonical(*fields_);
}

FieldValues::FieldValues() : set_(std::make_unique<json>(json::object())) {}
FieldValues::FieldValues(const FieldValues& other) : set_(std::make_unique<json>(*other.set_)), unset_(other.unset_) {}
FieldValues& FieldValues::operator=(const FieldValues& other) {
    *this = FieldValues(other);
    return *this;
}
FieldValues::FieldValues(FieldValues&&) noexcept = default;
FieldValues& FieldValues::operator=(FieldValues&&) noexcept = default;
FieldValues::~FieldValues() = default;

FieldValues& FieldValues::value(std::string_view path, const nlohmann::json& value) {
    (*set_)[std::string(path)] = value;
    return *this;
}
FieldValues& FieldValues::text(std::string_view path, std::string_view value) {
    return this->value(path, std::string(value));
}
FieldValues& FieldValues::number(std::string_view path, double value) {
    return this->value(path, value);
}
FieldValues& FieldValues::integer(std::string_view path, std::int64_t value) {
    return this->value(path, value);
}
FieldValues& FieldValues::flag(std::string_view path, bool value) {
    return this->value(path, value);
}
FieldValues& FieldValues::money(std::string_view path, const Money& value) {
    return this->value(path, {{"minor", value.minor}, {"currency", std::string(value.currency.code())}});
}
FieldValues& FieldValues::money_estimate(std::string_view path, const Estimate<std::int64_t>& minor,
                                         const Currency& currency) {
    return this->value(path, {{"low", minor.low},
                              {"likely", minor.likely},
                              {"high", minor.high},
                              {"currency", std::string(currency.code())}});
}
FieldValues& FieldValues::record(std::string_view path, const Uuid& id) {
    return text(path, to_text(id));
}
FieldValues& FieldValues::region(std::string_view path, const Region& value) {
    return this->value(path, parse_json(value.to_geojson()).value_or(nlohmann::json::object()));
}
FieldValues& FieldValues::placement(std::string_view path, const Placement& value) {
    nlohmann::json written = {{"homography", value.face_from_photo.row_major()}, {"error_mm", value.error_mm}};
    if (value.displacement) written["displacement"] = to_json(*value.displacement);
    return this->value(path, written);
}
FieldValues& FieldValues::unset(std::string_view path) {
    unset_.emplace_back(path);
    return *this;
}

bool FieldValues::empty() const {
    return set_->empty() && unset_.empty();
}
const nlohmann::json& FieldValues::set_values() const {
    return *set_;
}
const std::vector<std::string>& FieldValues::unset_paths() const {
    return unset_;
}

}  // namespace tedge::casebook
