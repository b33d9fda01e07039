#include "bag_checksum.hpp"

#include <openssl/evp.h>

#include <array>
#include <fstream>
#include <memory>
#include <span>

#include "tedge/base/digest.hpp"
#include "tedge/base/files.hpp"

namespace tedge::dossier {

namespace {

constexpr std::array<std::string_view, 6> known{"md5", "sha1", "sha224", "sha256", "sha384", "sha512"};

struct ContextDeleter {
    void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};
using Context = std::unique_ptr<EVP_MD_CTX, ContextDeleter>;

Context started(const std::string& algorithm) {
    Context context(EVP_MD_CTX_new());
    EVP_DigestInit_ex(context.get(), EVP_get_digestbyname(algorithm.c_str()), nullptr);
    return context;
}

std::string finished(const Context& context) {
    std::array<std::uint8_t, EVP_MAX_MD_SIZE> digest{};
    unsigned int size = 0;
    EVP_DigestFinal_ex(context.get(), digest.data(), &size);
    return to_hex(std::span<const std::uint8_t>(digest.data(), size));
}

}  // namespace

bool is_known_checksum(std::string_view algorithm) {
    for (const auto name : known)
        if (name == algorithm) return true;
    return false;
}

Expected<std::map<std::string, std::string>> checksums_of_file(const std::filesystem::path& file,
                                                               const std::vector<std::string>& algorithms,
                                                               const Progress& progress) {
    std::map<std::string, Context> contexts;
    for (const auto& algorithm : algorithms) contexts[algorithm] = started(algorithm);
    std::ifstream in(file, std::ios::binary);
    std::vector<char> piece(1 << 20);
    while (in) {
        if (progress.stopped()) return cancelled();
        in.read(piece.data(), static_cast<std::streamsize>(piece.size()));
        for (auto& [name, context] : contexts)
            EVP_DigestUpdate(context.get(), piece.data(), static_cast<std::size_t>(in.gcount()));
    }
    if (!in.eof())
        return fail("files.unreadable", to_utf8(file) + " could not be read.", "Check the disk and the rights.",
                    {{"path", to_utf8(file)}});
    std::map<std::string, std::string> sums;
    for (const auto& [name, context] : contexts) sums[name] = finished(context);
    return sums;
}

}  // namespace tedge::dossier
