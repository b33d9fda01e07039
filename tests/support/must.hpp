// What a test takes for granted: when it fails, the test ends with the error's words.
#pragma once

#include <catch2/catch.hpp>

#include "tedge/base/error.hpp"

namespace tedge {

template <class T>
T must(Expected<T> result) {
    if (!result) FAIL(result.error().code << ": " << result.error().message);
    return std::move(*result);
}
inline void must(Expected<void> result) {
    if (!result) FAIL(result.error().code << ": " << result.error().message);
}

}  // namespace tedge
