// Another locale for the length of one test: what is read and printed must not change with it.
#pragma once

#include <catch2/catch.hpp>
#include <clocale>
#include <locale>

namespace tedge {

// Sets the C and C++ locale and puts the classic one back.
class InLocale {
public:
    explicit InLocale(const char* name) {
        // The test is worth nothing where the locale is missing (Debian package locales-all).
        REQUIRE(std::setlocale(LC_ALL, name) != nullptr);
        std::locale::global(std::locale(name));
    }
    InLocale(const InLocale&) = delete;
    InLocale& operator=(const InLocale&) = delete;
    ~InLocale() {
        std::locale::global(std::locale::classic());
        std::setlocale(LC_ALL, "C");
    }
};

}  // namespace tedge
