# cmake -DFILES=... -DOUT=FILE.c -P assets.cmake: files as arrays of bytes
set(arrays "")
set(rows "")
set(n 0)
foreach(file IN LISTS FILES)
  get_filename_component(name ${file} NAME)
  file(READ ${file} hex HEX)
  string(LENGTH "${hex}" digits)
  math(EXPR size "${digits} / 2")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${hex}")
  string(APPEND arrays
         "static const unsigned char asset_${n}[] = {${bytes}0};\n")
  string(APPEND rows "  {\"${name}\", asset_${n}, ${size}},\n")
  math(EXPR n "${n} + 1")
endforeach()
file(
  WRITE ${OUT}
  "#include \"responder/page/assets.h\"\n\n${arrays}\nconst Asset page_assets[] = {\n${rows}  {NULL, NULL, 0},\n};\n")
