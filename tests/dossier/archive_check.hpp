// What PDF/A-1b (ISO 19005-1:2005) asks for and a program can look at without a validator of its own, by libqpdf.
// Clauses beside the checks are from memory of the standard.
#pragma once

#include <string>
#include <vector>

namespace tedge::test {

// What is wrong; empty when nothing was found.
std::vector<std::string> archive_faults(const std::string& pdf);

struct PdfView {
    int pages = 0;
    std::vector<std::string> outline;  // titles in reading order, two blanks in front for each level below the first
    std::string title;
    std::vector<std::string> information_keys;
    std::string decoded;  // every object and every stream, decompressed: to search for what must not be there
};
PdfView view_of(const std::string& pdf);

}  // namespace tedge::test
