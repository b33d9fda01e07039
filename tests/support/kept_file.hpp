// A file in a casebook for records to name, where what is in it does not matter.
#pragma once

#include <string>

#include "must.hpp"
#include "tedge/base/files.hpp"
#include "tedge/casebook/casebook.hpp"
#include "temporary_folder.hpp"

namespace tedge {

// Its digest.
inline std::string kept_file(casebook::Casebook& book, std::string_view content = "a photograph") {
    const TemporaryFolder folder{TemporaryFolder::quick_place()};
    must(write_file_durably(folder / "file", content));
    return must(book.store_original(folder / "file")).sha256;
}

}  // namespace tedge
