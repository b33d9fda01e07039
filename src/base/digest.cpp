#include "tedge/base/digest.hpp"

#include <openssl/evp.h>

#include <algorithm>

#include <fstream>
#include <stdexcept>
#include <vector>

#include "tedge/base/files.hpp"

namespace tedge {

struct Hasher::Context {
    EVP_MD_CTX* evp = EVP_MD_CTX_new();
    Context() = default;
    Context(const Context&) = delete;
    Context& operator=(const Context&) = delete;
    ~Context() { EVP_MD_CTX_free(evp); }
};

Hasher::Hasher(HashAlgorithm algorithm) : context_(std::make_unique<Context>()) {
    const EVP_MD* kind = algorithm == HashAlgorithm::sha256 ? EVP_sha256() : EVP_sha512();
    if (context_->evp == nullptr || EVP_DigestInit_ex(context_->evp, kind, nullptr) != 1) {
        throw std::runtime_error("libcrypto offers no SHA-2");
    }
}
Hasher::~Hasher() = default;
Hasher::Hasher(Hasher&&) noexcept = default;
Hasher& Hasher::operator=(Hasher&&) noexcept = default;

void Hasher::update(std::span<const std::uint8_t> bytes) {
    EVP_DigestUpdate(context_->evp, bytes.data(), bytes.size());
}
void Hasher::update(std::string_view text) {
    EVP_DigestUpdate(context_->evp, text.data(), text.size());
}

std::string Hasher::finish_hex() {
    std::array<std::uint8_t, EVP_MAX_MD_SIZE> digest{};
    unsigned size = 0;
    EVP_DigestFinal_ex(context_->evp, digest.data(), &size);
    return to_hex(std::span(digest).first(size));
}

Sha256Digest Hasher::finish_sha256() {
    std::array<std::uint8_t, EVP_MAX_MD_SIZE> digest{};
    unsigned size = 0;
    EVP_DigestFinal_ex(context_->evp, digest.data(), &size);
    Sha256Digest out{};
    if (size != out.size()) throw std::logic_error("finish_sha256 asked of another hash");
    std::copy_n(digest.begin(), out.size(), out.begin());
    return out;
}

Sha256Digest sha256(std::span<const std::uint8_t> bytes) {
    Hasher hasher(HashAlgorithm::sha256);
    hasher.update(bytes);
    return hasher.finish_sha256();
}

Sha256Digest sha256(std::string_view text) {
    Hasher hasher(HashAlgorithm::sha256);
    hasher.update(text);
    return hasher.finish_sha256();
}

Expected<std::string> hash_file_hex(const std::filesystem::path& file, HashAlgorithm algorithm) {
    std::ifstream in(file, std::ios::binary);
    if (!in) {
        return fail("files.unreadable", "The file " + to_utf8(file) + " cannot be read.",
                    "Check that it is there and that you may read it.", {{"path", to_utf8(file)}});
    }
    Hasher hasher(algorithm);
    std::vector<char> piece(1U << 20U);
    while (in.read(piece.data(), static_cast<std::streamsize>(piece.size())), in.gcount() > 0) {
        hasher.update(std::string_view(piece.data(), static_cast<std::size_t>(in.gcount())));
    }
    if (in.bad()) {
        return fail("files.unreadable", "Reading " + to_utf8(file) + " broke off.", "Check the disk.",
                    {{"path", to_utf8(file)}});
    }
    return hasher.finish_hex();
}

std::string to_hex(std::span<const std::uint8_t> bytes) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string hex;
    hex.reserve(bytes.size() * 2);
    for (const std::uint8_t byte : bytes) {
        hex += digits[byte >> 4U];
        hex += digits[byte & 15U];
    }
    return hex;
}

Expected<std::string> from_hex(std::string_view hex) {
    std::string bytes;
    const auto value = [](char c) {
        if (c >= '0' && c <= '9') return c - '0';
        if (c >= 'a' && c <= 'f') return c - 'a' + 10;
        if (c >= 'A' && c <= 'F') return c - 'A' + 10;
        return -1;
    };
    for (std::size_t i = 0; i + 1 < hex.size(); i += 2) {
        const int high = value(hex[i]);
        const int low = value(hex[i + 1]);
        if (high < 0 || low < 0) break;
        bytes += static_cast<char>(high * 16 + low);
    }
    if (bytes.size() * 2 != hex.size()) return fail("hex.not-hex", "This is not hexadecimal text.");
    return bytes;
}

}  // namespace tedge
