# tedge_module(name SOURCES … MODULES … LIBRARIES …): one folder, one static library.
#
# MODULES are the modules whose headers this one may include (the allowed arrows; a test reads the includes and holds
# them against the table in DEVELOPERS.md). LIBRARIES are outside libraries; they never show in a public header, so
# nobody else inherits their include paths.
function(tedge_module name)
  cmake_parse_arguments(PARSE_ARGV 1 module "" "" "SOURCES;MODULES;LIBRARIES")
  add_library(tedge_${name} STATIC ${module_SOURCES})
  add_library(tedge::${name} ALIAS tedge_${name})
  target_include_directories(tedge_${name} PUBLIC "${PROJECT_SOURCE_DIR}/include" PRIVATE "${CMAKE_CURRENT_SOURCE_DIR}")
  foreach(used IN LISTS module_MODULES)
    target_link_libraries(tedge_${name} PUBLIC tedge::${used})
  endforeach()
  target_link_libraries(tedge_${name} PRIVATE ${module_LIBRARIES})
  tedge_compile_together(tedge_${name})
endfunction()
