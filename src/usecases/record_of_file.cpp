#include "record_of_file.hpp"

#include <algorithm>

namespace tedge::usecases {

const casebook::Record* record_of_file(const std::vector<casebook::Record>& records, std::string_view sha256) {
    const auto found = std::ranges::find_if(
        records, [&](const casebook::Record& record) { return record.body.text_or("sha256") == sha256; });
    return found == records.end() ? nullptr : &*found;
}

}  // namespace tedge::usecases
