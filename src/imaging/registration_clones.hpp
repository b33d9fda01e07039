// Loops that gain from AVX2 are compiled twice and chosen when the program starts. No fast-math: sums keep their order,
// so a result depends on nothing but its input.
#pragma once

#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define TEDGE_CLONES __attribute__((target_clones("arch=x86-64-v3", "default"), optimize("O3")))
#else
#define TEDGE_CLONES
#endif
