#include "responder/lesson/charts.h"

#include "core/files/file.h"
#include "core/files/folder.h"
#include "core/settings/settings.h"

#include <stdio.h>
#include <string.h>

Status
charts_load(ChartFile* const  file,
            const char* const name,
            char* const       path,
            Faults* const     faults)
{
  Fault fault;
  return place_find(PLACE_CHARTS, name, path, &fault)
           ? faults_note(faults, &fault)
           : chart_file_load(file, path, faults);
}

Status
charts_check(ChartFile* const  file,
             const char* const text,
             Faults* const     faults)
{
  Settings* settings = NULL;
  Status    status =
    settings_read(&settings, "the chart", text, strlen(text), faults);
  if (!status) {
    status = chart_file_read(file, settings);
    settings_close(settings);
  }
  return status;
}

static bool
is_name(const char* const name)
{
  const size_t length = strlen(name);
  return length && length < PLACE_NAME_CAPACITY && name[0] != '-' &&
         strspn(name, "abcdefghijklmnopqrstuvwxyz0123456789-") == length;
}

static Status
save(const char* const name,
     const char* const text,
     char* const       path,
     Fault* const      fault)
{
  char file[PLACE_NAME_CAPACITY + 16];
  char folder[PLACE_PATH_CAPACITY];
  (void)snprintf(file, sizeof(file), "charts/%s.cfg", name);
  place_own_file("charts", folder);
  place_own_file(file, path);
  if (!folder[0] || !path[0]) {
    return fault_say(
      fault, STATUS_SYSTEM, "there is no folder for your charts; set HOME");
  }
  const Status status = folder_make(folder, fault);
  return status ? status
                : file_save(path, text, strlen(text), FILE_OPEN, fault);
}

Status
charts_save(const char* const name,
            const char* const text,
            char* const       path,
            Faults* const     faults)
{
  ChartFile file;
  Fault     fault;
  if (!is_name(name)) {
    return faults_add(faults,
                      STATUS_SYNTAX,
                      NULL,
                      0,
                      "a chart cannot be called %.40s; small letters, digits "
                      "and - make a name",
                      name);
  }
  const Status status = charts_check(&file, text, faults);
  if (status) {
    return status;
  }
  return save(name, text, path, &fault) ? faults_note(faults, &fault)
                                        : STATUS_OK;
}
