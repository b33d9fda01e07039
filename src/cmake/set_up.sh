# Sourced by demo/run.sh and tests/run.sh: packages, then a build with what the machine offers.
set -euo pipefail
project="$(cd "$(dirname "${BASH_SOURCE[0]}")/../.." && pwd)"

missing_packages() {
    local package
    while read -r package; do
        [ -n "$package" ] || continue
        [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" = installed ] || echo "$package"
    done < "$project/src/cmake/debian_packages.txt"
}

as_root() {
    if [ "$(id -u)" = 0 ]; then "$@"; else sudo -n "$@"; fi
}

install_packages() {
    local missing
    missing="$(missing_packages | tr '\n' ' ')"
    [ -n "${missing// /}" ] || return 0
    if [ "$(id -u)" != 0 ] && ! sudo -n true 2>/dev/null; then
        echo "These packages are missing and only root can install them: apt-get install $missing" >&2
        exit 1
    fi
    echo "Installing $(wc -w <<< "$missing") packages: $missing" >&2
    as_root apt-get -q update >&2
    # shellcheck disable=SC2086
    as_root env DEBIAN_FRONTEND=noninteractive apt-get -q install -y --no-install-recommends $missing >&2
}

# build_in FOLDER TARGETS [CMake options]: configures once, then builds what changed.
build_in() {
    local folder="$project/build/$1" targets="$2"
    shift 2
    [ -f "$folder/build.ninja" ] || cmake -S "$project" -B "$folder" -G Ninja "$@" > "$folder.configure.log" 2>&1 ||
        { cat "$folder.configure.log" >&2; exit 1; }
    # shellcheck disable=SC2086
    cmake --build "$folder" --target $targets >&2
}

install_packages
mkdir -p "$project/build"
