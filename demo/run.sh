#!/usr/bin/env bash
# The whole job on the invented picture: packages, build, photographs, and from an empty casebook to the dossier.
source "$(dirname "${BASH_SOURCE[0]}")/../src/cmake/set_up.sh"

build_in release "tedge tedge_painter tackingedge" -DCMAKE_BUILD_TYPE=Release
