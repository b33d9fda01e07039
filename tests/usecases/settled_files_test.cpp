#include "tedge/usecases/settled_files.hpp"

#include <catch2/catch.hpp>

#include "must.hpp"
#include "tedge/base/files.hpp"
#include "temporary_folder.hpp"

using namespace tedge;
using namespace tedge::usecases;

TEST_CASE("A file that grows is told of once, when it has stopped growing, and one that was there before never") {
    SettledFiles files({{"old.tif", 10}});
    CHECK(files.settled({{"old.tif", 10}}).empty());
    CHECK(files.settled({{"old.tif", 10}, {"new.tif", 0}}).empty());
    CHECK(files.settled({{"old.tif", 10}, {"new.tif", 0}}).empty());  // begun, nothing in it yet
    CHECK(files.settled({{"old.tif", 10}, {"new.tif", 500}}).empty());
    CHECK(files.settled({{"old.tif", 11}, {"new.tif", 900}}).empty());
    CHECK(files.settled({{"old.tif", 11}, {"new.tif", 900}}) == std::vector<std::filesystem::path>{"new.tif"});
    CHECK(files.settled({{"old.tif", 11}, {"new.tif", 900}}).empty());
}

TEST_CASE("A file that goes and comes again under the same size waits anew; a folder that vanished is told") {
    SettledFiles files;
    CHECK(files.settled({{"a.tif", 5}}).empty());
    CHECK(files.settled({}).empty());
    CHECK(files.settled({{"a.tif", 5}}).empty());
    CHECK(files.settled({{"a.tif", 5}}).size() == 1);
    const TemporaryFolder folder;
    must(write_file_durably(folder / "b.tif", "bytes"));
    CHECK(must(sizes_in(folder / "")).at(folder / "b.tif") == 5);
    CHECK(sizes_in(folder / "gone").error().code == "photograph.no-folder");
}
