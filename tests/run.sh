#!/usr/bin/env bash
# Everything that shows the program works: packages, build, all tests. Seconds when nothing changed.
# Two builds: the sanitizer build is the test build; the release build holds the programs, and the desk's own tests.
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

build_in test all -DTEDGE_SANITIZE=ON -DTEDGE_DESK=OFF -DCMAKE_BUILD_TYPE=Debug
build_in release all -DCMAKE_BUILD_TYPE=Release

status=0
# Leaks that Qt's font and GL libraries keep for the life of a program are not ours to count.
export QT_QPA_PLATFORM=offscreen
ctest --test-dir "$project/build/release" --output-on-failure -j2 -L release || status=1
ctest --test-dir "$project/build/test" --output-on-failure -j2 || status=1
exit $status
