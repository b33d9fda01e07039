#!/usr/bin/env bash
# The decoding libraries as Debian patches them, built once more so that the fuzzer sees which way bytes go in them.
# usage: build_decoders.sh FOLDER [PACKAGE …]    then run the fuzz targets with LD_LIBRARY_PATH=FOLDER/lib
#
# Sources are fetched by apt with its own lists in FOLDER; nothing is installed and the machine's lists stay as they are.
set -euo pipefail
mkdir -p "${1:?name a folder outside the sources}/src" "$1/lists/partial" "$1/lib"
folder="$(cd "$1" && pwd)"
shift
packages=("$@")
[ $# -gt 0 ] || packages=(libjpeg-turbo libpng1.6 libwebp lcms2 tiff libde265 libheif exiv2 libraw)

export CC=clang-19 CXX=clang++-19
# No undefined-behaviour checks here: the libraries count on wrap-around in many places, and memory is what matters.
flags="-O1 -g1 -fno-omit-frame-pointer -fsanitize=address,fuzzer-no-link -w"

apt_here() {
    apt-get -q -o Dir::Etc::sourcelist="$folder/debian.sources" -o Dir::Etc::sourceparts=- \
            -o Dir::State::lists="$folder/lists" -o APT::Sandbox::User="$(id -un)" "$@"
}

fetch_lists() {
    local suites
    for suites in "debian bookworm bookworm-updates" "debian-security bookworm-security"; do
        printf 'Types: deb-src\nURIs: http://deb.debian.org/%s\nSuites: %s\nComponents: main\n' "${suites%% *}" "${suites#* }"
        printf 'Signed-By: /usr/share/keyrings/debian-archive-keyring.gpg\n\n'
    done > "$folder/debian.sources"
    apt_here update
}

# The newest source; that of the point release where a mirror does not hold the security update.
fetch_source() {
    [ -d "$(echo "$folder/src/$1"-[0-9]*)" ] && return
    (cd "$folder/src" && { apt_here source "$1" || apt_here --only-source source "$1/bookworm"; })
}

by_cmake() {
    cmake -S "$1" -B "$1/fuzzed" -G Ninja -DCMAKE_BUILD_TYPE=None -DBUILD_SHARED_LIBS=ON -DBUILD_TESTING=OFF \
          -DCMAKE_C_FLAGS="$flags" -DCMAKE_CXX_FLAGS="$flags" "${@:3}"
    # shellcheck disable=SC2086
    ninja -j1 -C "$1/fuzzed" $2
    find "$1/fuzzed" -name "lib*.so*" -exec cp -a -t "$folder/lib" {} +
}

# by_hand FOLDER LIBRARY COMPILER FLAGS SOURCES…: where the package has no CMake file that makes Debian's library.
by_hand() {
    local objects="$1/fuzzed/$2" source
    mkdir -p "$objects"
    for source in "${@:5}"; do
        # shellcheck disable=SC2086
        "$3" $flags -fPIC $4 -I"$1" -I"$1/include" -c "$source" -o "$objects/$(echo "${source#"$1"/}" | tr / _).o"
    done
    "$3" -shared -Wl,-soname,"$2" -fsanitize=address,fuzzer-no-link "$objects"/*.o -lpthread -lm \
         -o "$folder/lib/$2" $(case "$2" in libraw*) echo -ljpeg -llcms2 -lgomp ;; *demux*) echo -L"$folder/lib" -l:libwebp.so.7 ;; esac)
}

build() {
    local in
    in="$(echo "$folder/src/$1"-[0-9]*/)"
    in="${in%/}"
    case "$1" in
        libjpeg-turbo) by_cmake "$in" jpeg -DWITH_SIMD=OFF -DWITH_TURBOJPEG=OFF -DENABLE_STATIC=OFF ;;
        libpng1.6) by_cmake "$in" png -DPNG_STATIC=OFF -DPNG_TESTS=OFF -DPNG_HARDWARE_OPTIMIZATIONS=OFF ;;
        tiff) by_cmake "$in" tiff -Dtiff-tools=OFF -Dtiff-tests=OFF -Dtiff-docs=OFF ;;
        libde265)
            by_cmake "$in" de265 -DENABLE_SDL=OFF -DDISABLE_SSE=ON
            ln -sf libde265.so "$folder/lib/libde265.so.0" ;;
        libheif) by_cmake "$in" heif -DWITH_DEFLATE_HEADER_COMPRESSION=ON -DWITH_EXAMPLES=OFF \
                          -DWITH_{AOM_DECODER,AOM_ENCODER,DAV1D,LIBDE265,X265}_PLUGIN=OFF ;;
        exiv2) by_cmake "$in" exiv2lib -DEXIV2_ENABLE_BMFF=ON -DEXIV2_ENABLE_VIDEO=ON -DEXIV2_ENABLE_NLS=OFF \
                        -DEXIV2_BUILD_SAMPLES=OFF -DEXIV2_BUILD_EXIV2_COMMAND=OFF ;;
        lcms2) by_hand "$in" liblcms2.so.2 "$CC" "" "$in"/src/*.c ;;
        libwebp)
            by_hand "$in" libwebp.so.7 "$CC" -DWEBP_USE_THREAD "$in"/src/{dec,dsp,enc,utils}/*.c "$in"/sharpyuv/*.c
            by_hand "$in" libwebpdemux.so.2 "$CC" "" "$in"/src/demux/*.c ;;
        libraw) by_hand "$in" libraw_r.so.20 "$CXX" "-DUSE_JPEG -DUSE_LCMS2 -std=c++14" \
                        "$in"/src/libraw_{c_api,datastream}.cpp $(find "$in"/src/*/ -name '*.cpp' ! -name '*_ph.cpp' | sort) ;;
    esac
}

[ -f "$folder/debian.sources" ] || fetch_lists
for package in "${packages[@]}"; do
    fetch_source "$package"
    build "$package"
done
