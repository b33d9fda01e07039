# OpenCV by its Debian development packages, one per part, without the umbrella package that would bring highgui (and
# with it Qt 5), imgcodecs (and with it GDAL and DICOM parsers) and 190 packages more.
#
# find_package(OpenCV REQUIRED COMPONENTS core imgproc) makes the targets opencv::core, opencv::imgproc.
find_path(OpenCV_INCLUDE_DIR opencv2/core.hpp PATH_SUFFIXES opencv4)
foreach(part IN LISTS OpenCV_FIND_COMPONENTS)
  find_library(OpenCV_${part}_LIBRARY opencv_${part})
  if(OpenCV_INCLUDE_DIR AND OpenCV_${part}_LIBRARY)
    set(OpenCV_${part}_FOUND TRUE)
    if(NOT TARGET opencv::${part})
      add_library(opencv::${part} UNKNOWN IMPORTED)
      set_target_properties(opencv::${part} PROPERTIES IMPORTED_LOCATION "${OpenCV_${part}_LIBRARY}"
                            INTERFACE_INCLUDE_DIRECTORIES "${OpenCV_INCLUDE_DIR}")
    endif()
  endif()
endforeach()
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(OpenCV REQUIRED_VARS OpenCV_INCLUDE_DIR HANDLE_COMPONENTS)
