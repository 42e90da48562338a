// Reads JSON from standard input, all of it and nothing behind it, and prints
// what stands at a path: read_json turns 0 by. Of a list or an object it prints
// the size.

#include <jansson.h>

#include <stdio.h>
#include <stdlib.h>

static const json_t*
step(const json_t* const value, const char* const word)
{
  return json_is_array(value)
           ? json_array_get(value, (size_t)strtoul(word, NULL, 10))
           : json_object_get(value, word);
}

static int
print(const json_t* const value)
{
  if (json_is_string(value)) {
    (void)puts(json_string_value(value));
  } else if (json_is_array(value)) {
    (void)printf("%zu\n", json_array_size(value));
  } else if (json_is_object(value)) {
    (void)printf("%zu\n", json_object_size(value));
  } else if (json_is_integer(value)) {
    (void)printf("%" JSON_INTEGER_FORMAT "\n", json_integer_value(value));
  } else if (json_is_real(value)) {
    (void)printf("%.10g\n", json_real_value(value));
  } else if (value) {
    (void)puts(json_is_true(value)    ? "true"
               : json_is_false(value) ? "false"
                                      : "null");
  }
  return value ? 0 : 1;
}

int
main(const int argc, char** const argv)
{
  json_error_t  error;
  json_t* const root = json_loadf(stdin, JSON_REJECT_DUPLICATES, &error);
  if (!root) {
    (void)fprintf(stderr, "read_json: line %d: %s\n", error.line, error.text);
    return 2;
  }
  const json_t* value = root;
  for (int i = 1; i < argc && value; ++i) {
    value = step(value, argv[i]);
  }
  const int code = print(value);
  json_decref(root);
  return code;
}
