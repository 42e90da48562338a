#include "core/settings/settings.h"

#include "core/settings/scan.h"
#include "core/settings/utf8.h"
#include "core/sum.h"

#include <libconfig.h>

#include <errno.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

struct Settings {
  config_t  config;
  Faults*   faults;
  uint64_t  sum;
  Status    status;     ///< Of the first fault noted since the file was opened
  char      file[1024]; ///< Cut if longer
  ScanLines lines;
};

/// Give every value its own line: libconfig's is that of what follows it.
/// Values come in the order of the text, as the scan counted them.
static void
set_lines(config_setting_t* const setting,
          const ScanLines* const  lines,
          unsigned* const         n_seen)
{
  if (!config_setting_is_aggregate(setting)) {
    if (*n_seen < lines->n_values) {
      setting->line = lines->lines[(*n_seen)++];
    }
    return;
  }
  const int n_elements = config_setting_length(setting);
  for (int i = 0; i < n_elements; ++i) {
    set_lines(config_setting_get_elem(setting, (unsigned)i), lines, n_seen);
  }
}

/// Hand the text to libconfig.
static Status
parse(Settings* const settings, const char* const text)
{
  if (config_read_string(&settings->config, text)) {
    unsigned n_seen = 0;
    set_lines(
      config_root_setting(&settings->config), &settings->lines, &n_seen);
    return STATUS_OK;
  }

  const char* const said = config_error_text(&settings->config);
  const unsigned    line = (unsigned)config_error_line(&settings->config);
  if (said && strstr(said, "duplicate")) {
    return faults_add(settings->faults,
                      STATUS_SYNTAX,
                      settings->file,
                      line,
                      "this name stands here a second time; keep one of them");
  }
  if (said && strstr(said, "memory")) {
    return faults_add(settings->faults,
                      STATUS_MEMORY,
                      settings->file,
                      0,
                      "there is no memory left to read it");
  }
  return faults_add(settings->faults,
                    STATUS_SYNTAX,
                    settings->file,
                    line,
                    "this is not well formed; write NAME = VALUE; with texts "
                    "in quotes");
}

/// Refuse what is no UTF-8 text at all.
static Status
check_encoding(const Settings* const settings,
               const char* const     text,
               const size_t          length)
{
  const size_t zero  = strlen(text);
  const size_t valid = utf8_valid(text, length);
  const size_t at    = zero < valid ? zero : valid;
  unsigned     line  = 1;
  for (size_t i = 0; i < at; ++i) {
    line += text[i] == '\n';
  }

  const char* fault = NULL;
  if (strncmp(text, "\xEF\xBB\xBF", 3) == 0) {
    line  = 1;
    fault = "the file begins with a byte order mark; save it without one";
  } else if (zero < valid) {
    fault = "a zero byte stands here; settings are plain text";
  } else if (valid < length) {
    fault = "this is not UTF-8; save the file as UTF-8 text";
  }
  return fault ? faults_add(settings->faults,
                            STATUS_SYNTAX,
                            settings->file,
                            line,
                            "%s",
                            fault)
               : STATUS_OK;
}

/// Scan and parse; `text` has room for `length` bytes, a line end and a NUL.
static Status
read_text(Settings* const settings, char* const text, const size_t length)
{
  text[length]  = '\0';
  Status status = check_encoding(settings, text, length);
  if (status == STATUS_OK) {
    status =
      scan_text(text, settings->file, &settings->lines, settings->faults);
  }
  if (status != STATUS_OK) {
    return status;
  }
  text[length]     = '\n'; // libconfig asks for one after the last comment
  text[length + 1] = '\0';
  return parse(settings, text);
}

Status
settings_read(Settings** const  settings,
              const char* const name,
              const char* const text,
              const size_t      length,
              Faults* const     faults)
{
  if (length > SETTINGS_SIZE_MAX) {
    return faults_add(faults,
                      STATUS_FULL,
                      name,
                      0,
                      "the file is larger than %d KiB, the most for settings",
                      SETTINGS_SIZE_MAX / 1024);
  }

  Settings* const opened = calloc(1, sizeof(*opened));
  char* const     copy   = malloc(length + 2);
  if (!opened || !copy) {
    free(copy);
    free(opened);
    return faults_add(
      faults, STATUS_MEMORY, name, 0, "there is no memory left to read it");
  }

  config_init(&opened->config);
  opened->faults = faults;
  (void)snprintf(opened->file, sizeof(opened->file), "%s", name);
  opened->sum = sum_add(SUM_BEGIN, text, length);
  memcpy(copy, text, length);
  const Status status = read_text(opened, copy, length);
  free(copy);
  if (status != STATUS_OK) {
    settings_close(opened);
    return status;
  }
  *settings = opened;
  return STATUS_OK;
}

/// Open a file that can be read as text.
static Status
open_stream(FILE** const stream, const char* const path, Faults* const faults)
{
  *stream = fopen(path, "rb");
  if (!*stream) {
    const bool is_missing = errno == ENOENT || errno == ENOTDIR;
    return is_missing
             ? faults_add(
                 faults, STATUS_MISSING, path, 0, "there is no such file")
             : faults_add(faults,
                          STATUS_SYSTEM,
                          path,
                          0,
                          "the file cannot be opened: %s",
                          strerror(errno));
  }

  struct stat about;
  if (fstat(fileno(*stream), &about) == 0 && S_ISDIR(about.st_mode)) {
    (void)fclose(*stream);
    return faults_add(
      faults, STATUS_RANGE, path, 0, "this is a folder; name a file in it");
  }
  return STATUS_OK;
}

Status
settings_open(Settings** const  settings,
              const char* const path,
              Faults* const     faults)
{
  FILE*  stream = NULL;
  Status status = open_stream(&stream, path, faults);
  if (status != STATUS_OK) {
    return status;
  }

  char* const text = malloc(SETTINGS_SIZE_MAX + 1);
  if (!text) {
    status = faults_add(
      faults, STATUS_MEMORY, path, 0, "there is no memory left to read it");
    goto out;
  }
  const size_t length = fread(text, 1, SETTINGS_SIZE_MAX + 1, stream);
  if (ferror(stream)) {
    status = faults_add(faults,
                        STATUS_SYSTEM,
                        path,
                        0,
                        "the file cannot be read: %s",
                        strerror(errno));
    goto out;
  }
  status = settings_read(settings, path, text, length, faults);

out:
  free(text);
  (void)fclose(stream);
  return status;
}

void
settings_close(Settings* const settings)
{
  if (settings) {
    config_destroy(&settings->config);
    free(settings);
  }
}

const char*
settings_file(const Settings* const settings)
{
  return settings->file;
}

uint64_t
settings_sum(const Settings* const settings)
{
  return settings->sum;
}

Setting
settings_top(Settings* const settings)
{
  return (Setting){settings, config_root_setting(&settings->config)};
}

Status
settings_status(const Settings* const settings)
{
  return settings->status;
}

SettingKind
setting_kind(const Setting setting)
{
  const config_setting_t* const node = setting.node;
  switch (node ? config_setting_type(node) : CONFIG_TYPE_NONE) {
    case CONFIG_TYPE_GROUP:
      return SETTING_GROUP;
    case CONFIG_TYPE_ARRAY:
    case CONFIG_TYPE_LIST:
      return SETTING_LIST;
    case CONFIG_TYPE_INT:
    case CONFIG_TYPE_INT64:
    case CONFIG_TYPE_FLOAT:
      return SETTING_NUMBER;
    case CONFIG_TYPE_STRING:
      return SETTING_TEXT;
    case CONFIG_TYPE_BOOL:
      return SETTING_BOOL;
    default:
      return SETTING_ABSENT;
  }
}

Setting
setting_find(const Setting group, const char* const name)
{
  const bool is_group = setting_kind(group) == SETTING_GROUP;
  return (Setting){group.settings,
                   is_group ? config_setting_get_member(group.node, name)
                            : NULL};
}

Setting
setting_at(const Setting list, const unsigned index)
{
  return (Setting){list.settings, config_setting_get_elem(list.node, index)};
}

unsigned
setting_length(const Setting setting)
{
  const config_setting_t* const node = setting.node;
  return node && config_setting_is_aggregate(node)
           ? (unsigned)config_setting_length(node)
           : 0;
}

const char*
setting_name(const Setting setting)
{
  const config_setting_t* node = setting.node;
  while (node && !config_setting_name(node) && !config_setting_is_root(node)) {
    node = config_setting_parent(node);
  }
  const char* const name = node ? config_setting_name(node) : NULL;
  return name ? name : "the file";
}

unsigned
setting_line(const Setting setting)
{
  const config_setting_t* const node = setting.node;
  return node ? config_setting_source_line(node) : 0;
}

void
setting_fault(const Setting setting, const char* const format, ...)
{
  va_list args;
  va_start(args, format);
  const Status status = faults_add_list(setting.settings->faults,
                                        STATUS_SYNTAX,
                                        setting.settings->file,
                                        setting_line(setting),
                                        format,
                                        args);
  va_end(args);
  if (setting.settings->status == STATUS_OK) {
    setting.settings->status = status;
  }
}

// libconfig answers 0 or NULL to a wrong type: the kind is known before

double
setting_raw_number(const Setting setting)
{
  switch (config_setting_type((const config_setting_t*)setting.node)) {
    case CONFIG_TYPE_INT:
      return config_setting_get_int(setting.node);
    case CONFIG_TYPE_INT64:
      return (double)config_setting_get_int64(setting.node);
    default:
      return config_setting_get_float(setting.node);
  }
}

bool
setting_raw_bool(const Setting setting)
{
  return config_setting_get_bool(setting.node);
}

const char*
setting_raw_text(const Setting setting)
{
  return config_setting_get_string(setting.node);
}
