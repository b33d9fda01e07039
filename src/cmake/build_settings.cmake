# Compiler, linker and warnings: the same for every target.
if(NOT CMAKE_BUILD_TYPE)
  set(CMAKE_BUILD_TYPE RelWithDebInfo CACHE STRING "" FORCE)
endif()
set(CMAKE_CXX_STANDARD 23)
set(CMAKE_CXX_STANDARD_REQUIRED ON)
set(CMAKE_CXX_EXTENSIONS OFF)
set(CMAKE_EXPORT_COMPILE_COMMANDS ON)
set(CMAKE_RUNTIME_OUTPUT_DIRECTORY "${CMAKE_BINARY_DIR}/bin")

find_program(TEDGE_CCACHE ccache)
if(TEDGE_CCACHE)
  set(CMAKE_CXX_COMPILER_LAUNCHER "${TEDGE_CCACHE}")
endif()
find_program(TEDGE_MOLD mold)
if(TEDGE_MOLD)
  add_link_options(-fuse-ld=mold)
endif()
# Only libraries that are really called are loaded: the command line must start in a blink.
add_link_options(-Wl,--as-needed)

# The fuzzer is compiled by clang, which warns of other things; what is compiled is what the tests compile.
if(NOT TEDGE_FUZZ)
  add_compile_options(-Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wnon-virtual-dtor -Wold-style-cast
                      -Wimplicit-fallthrough -Wformat=2 -Werror)
  # GCC 12 sees overlapping copies inside std::string::insert that are none (GCC bug 105651).
  # It also takes the parts of a std::variant that are not in use for forgotten ones; the static analyser sees better.
  add_compile_options(-Wno-restrict -Wno-maybe-uninitialized)
endif()
# Most of compiling is the reading of headers: the files of a module are compiled six at a time. So names in anonymous
# namespaces must not clash within a module; -DTEDGE_TOGETHER=OFF compiles every file by itself.
option(TEDGE_TOGETHER "Compile the files of a module six at a time" ON)
set(CMAKE_UNITY_BUILD_BATCH_SIZE 6)
function(tedge_compile_together target)
  set_target_properties(${target} PROPERTIES UNITY_BUILD ${TEDGE_TOGETHER})
  if(TEDGE_TOGETHER)
    # Compiled so, a file's own names are global to its neighbours, and its own types seem to come from a header.
    target_compile_options(${target} PRIVATE -Wno-shadow -Wshadow=local -Wno-subobject-linkage)
  endif()
endfunction()

add_compile_definitions(JSON_USE_IMPLICIT_CONVERSIONS=0)

# The address sanitizer traps on null pointers by itself, and nothing here reads bytes as wider values in place; asking
# before each access costs a fifth of the compilation.
if(TEDGE_FUZZ)
  if(NOT CMAKE_CXX_COMPILER_ID STREQUAL Clang)
    message(FATAL_ERROR "TEDGE_FUZZ needs clang: -DCMAKE_C_COMPILER=clang-19 -DCMAKE_CXX_COMPILER=clang++-19")
  endif()
  add_compile_options(-w -fsanitize=fuzzer-no-link,address,undefined -fno-sanitize=vptr,function
                      -fno-sanitize-recover=all -fno-omit-frame-pointer -O1 -g1)
  add_link_options(-fsanitize=address,undefined)
elseif(TEDGE_SANITIZE)
  add_compile_options(-fsanitize=address,undefined -fno-sanitize=null,alignment,object-size
                      -fno-sanitize-recover=all -fno-omit-frame-pointer -O1 -g1)
  add_link_options(-fsanitize=address,undefined)
else()
  add_compile_options(-O2 -g1)
endif()
