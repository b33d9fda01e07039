#include "tedge/base/own_files.hpp"

#include <fmt/format.h>

#include "tedge/base/files.hpp"

namespace tedge {

Expected<void> check_may_be_replaced(const std::filesystem::path& file, std::string_view begins, std::string_view code,
                                     std::string_view what) {
    std::error_code ignored;
    if (!std::filesystem::exists(file, ignored)) return {};
    const auto before = read_file(file);
    if (before && before->starts_with(begins)) return {};
    return fail(std::string(code), fmt::format("There is a file {} already, and it is no {}.", to_utf8(file), what),
                "Name another file, or take the old one away.");
}

Expected<void> write_table_durably(const std::filesystem::path& file, std::string_view csv) {
    const std::string_view heads = csv.substr(0, csv.find('\n'));
    if (auto fine = check_may_be_replaced(file, heads, "table.exists", "such table"); !fine) return fine;
    return write_file_durably(file, csv);
}

}  // namespace tedge
