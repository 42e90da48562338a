# Remove what the last `cmake --install` of this build folder put there, and the
# folders of barter's own that are empty then. What a person wrote stays.
if(NOT EXISTS ${MANIFEST})
  message(FATAL_ERROR "nothing was installed from this folder: no ${MANIFEST}")
endif()
file(STRINGS ${MANIFEST} files)
foreach(file ${files})
  set(path $ENV{DESTDIR}${file})
  if(EXISTS ${path} OR IS_SYMLINK ${path})
    file(REMOVE ${path})
  endif()
  cmake_path(GET path PARENT_PATH folder)
  list(APPEND folders ${folder})
endforeach()

list(REMOVE_DUPLICATES folders)
list(SORT folders ORDER DESCENDING) # The inner ones first
foreach(folder ${folders} ${folders})
  file(GLOB left ${folder}/* ${folder}/.*)
  list(FILTER left EXCLUDE REGEX "/\\.\\.?$")
  if(folder MATCHES "/barter(/|$)" AND IS_DIRECTORY ${folder} AND NOT left)
    file(REMOVE_RECURSE ${folder})
  endif()
endforeach()
