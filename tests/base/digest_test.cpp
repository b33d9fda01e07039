#include "tedge/base/digest.hpp"

#include <catch2/catch.hpp>

#include "tedge/base/files.hpp"
#include "temporary_folder.hpp"

using namespace tedge;

TEST_CASE("SHA-2 gives the digests of the standard's examples") {
    // NIST, FIPS 180-4 example values for "abc" and the 448-bit message.
    CHECK(to_hex(sha256("abc")) == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(to_hex(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")) ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    Hasher longer(HashAlgorithm::sha512);
    longer.update("a");
    longer.update("bc");
    CHECK(longer.finish_hex() ==
          "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
          "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f");
}

TEST_CASE("A file's digest is that of its bytes") {
    const TemporaryFolder folder;
    REQUIRE(write_file_durably(folder / "a", std::string(3'000'000, 'x')));
    CHECK(hash_file_hex(folder / "a", HashAlgorithm::sha256) == to_hex(sha256(std::string(3'000'000, 'x'))));
    CHECK(hash_file_hex(folder / "none", HashAlgorithm::sha256).error().code == "files.unreadable");
}

TEST_CASE("Hexadecimal goes there and back") {
    CHECK(from_hex("00ffA5") == std::string("\x00\xff\xa5", 3));
    CHECK_FALSE(from_hex("0").has_value());
    CHECK_FALSE(from_hex("0g").has_value());
}
