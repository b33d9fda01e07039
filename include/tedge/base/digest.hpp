// SHA-256 and SHA-512 (FIPS 180-4) by libcrypto.
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "tedge/base/error.hpp"

namespace tedge {

using Sha256Digest = std::array<std::uint8_t, 32>;

enum class HashAlgorithm { sha256, sha512 };

// Feed bytes, then finish once.
class Hasher {
public:
    explicit Hasher(HashAlgorithm algorithm);
    ~Hasher();
    Hasher(Hasher&&) noexcept;
    Hasher& operator=(Hasher&&) noexcept;

    void update(std::span<const std::uint8_t> bytes);
    void update(std::string_view text);
    [[nodiscard]] std::string finish_hex();
    [[nodiscard]] Sha256Digest finish_sha256();  // only for a hasher made with sha256

private:
    struct Context;
    std::unique_ptr<Context> context_;
};

[[nodiscard]] Sha256Digest sha256(std::span<const std::uint8_t> bytes);
[[nodiscard]] Sha256Digest sha256(std::string_view text);

// Reads in pieces of a megabyte. Errors: those of files.hpp.
[[nodiscard]] Expected<std::string> hash_file_hex(const std::filesystem::path& file, HashAlgorithm algorithm);

[[nodiscard]] std::string to_hex(std::span<const std::uint8_t> bytes);  // lower case
[[nodiscard]] Expected<std::string> from_hex(std::string_view hex);     // raw bytes. Errors: hex.not-hex

}  // namespace tedge
