// 128-bit integers for exact products of money and rates. GCC and Clang have them; ISO C++ does not.
#pragma once

namespace tedge {

__extension__ typedef __int128 WideInteger;  // NOLINT(modernize-use-using): __extension__ takes no alias declaration

}  // namespace tedge
