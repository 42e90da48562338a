/// @file core/settings/utf8.h Whether bytes are well-formed UTF-8 (RFC 3629).

#ifndef CORE_SETTINGS_UTF8_H
#define CORE_SETTINGS_UTF8_H

#include <stdbool.h>
#include <stddef.h>

/// Return how many bytes the character at `text` takes, 1..4, or 0 if no
/// well-formed character begins there or it runs over `length` bytes.
size_t
utf8_character(const char* text, size_t length);

/// Return how many bytes of `text` are well formed, up to the first that is
/// not; `length` if all are.
size_t
utf8_valid(const char* text, size_t length);

/// Whether a text can be shown on one line: well formed, and with no control
/// characters.
bool
utf8_is_line(const char* text);

#endif // CORE_SETTINGS_UTF8_H
