# tedge_embed_tables(target file...): compiles text files of resources/ into a library.
#
# For resources/reference/teas.csv the target may `#include "embedded_tables.hpp"` and read
# `tedge::embedded::teas_csv`, a std::string_view. The header is private to the target.
function(tedge_embed_tables target)
  set(header "#pragma once\n#include <string_view>\nnamespace tedge::embedded {\n")
  set(source "#include \"embedded_tables.hpp\"\nnamespace tedge::embedded {\n")
  foreach(file IN LISTS ARGN)
    set(path "${PROJECT_SOURCE_DIR}/resources/${file}")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS "${path}")
    get_filename_component(name "${file}" NAME)
    string(MAKE_C_IDENTIFIER "${name}" name)
    # Hexadecimal, so that no byte of the table can be taken for CMake or C++ syntax.
    file(READ "${path}" hex HEX)
    string(REGEX REPLACE "([0-9a-f][0-9a-f])" "\\\\x\\1" escaped "${hex}")
    string(LENGTH "${hex}" digits)
    math(EXPR size "${digits} / 2")
    # GCC takes long literals; lines of 100 bytes keep the file readable in a debugger.
    string(REGEX REPLACE "((\\\\x[0-9a-f][0-9a-f])(\\\\x[0-9a-f][0-9a-f])?)" "\\1" escaped "${escaped}")
    string(APPEND header "extern const std::string_view ${name};\n")
    string(APPEND source "const std::string_view ${name}(\"${escaped}\", ${size});\n")
  endforeach()
  string(APPEND header "}  // namespace tedge::embedded\n")
  string(APPEND source "}  // namespace tedge::embedded\n")
  set(folder "${CMAKE_CURRENT_BINARY_DIR}/${target}_tables")
  file(CONFIGURE OUTPUT "${folder}/embedded_tables.hpp" CONTENT "${header}" @ONLY)
  file(CONFIGURE OUTPUT "${folder}/embedded_tables.cpp" CONTENT "${source}" @ONLY)
  target_sources(${target} PRIVATE "${folder}/embedded_tables.cpp")
  target_include_directories(${target} PRIVATE "${folder}")
endfunction()
