# cmake -DREADELF=… -DLDD=… -DPROGRAM=… -P linked_libraries.cmake: fails where the program asks for a library of windows
# (by its own dynamic section) or is given one by another library (by the loader).
execute_process(COMMAND ${READELF} -d ${PROGRAM} OUTPUT_VARIABLE asked_for COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND ${LDD} ${PROGRAM} OUTPUT_VARIABLE given COMMAND_ERROR_IS_FATAL ANY)

# Where these are missing, nothing was read and nothing is proved.
foreach(output IN ITEMS asked_for given)
  foreach(library IN ITEMS libQt6Core libsqlite3 libc)
    if(NOT ${output} MATCHES "${library}\\.")
      message(FATAL_ERROR "${PROGRAM}: ${library} is not in what is ${output}: ${${output}}")
    endif()
  endforeach()
  foreach(library IN ITEMS libQt6Widgets libQt6PrintSupport libQt6OpenGLWidgets libopencv_highgui libopencv_imgcodecs
                           libopencv_videoio)
    if(${output} MATCHES "${library}\\.")
      message(SEND_ERROR "${PROGRAM} links ${library} (${output})")
    endif()
  endforeach()
endforeach()
