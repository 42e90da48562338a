#include "responder/page/beacon.h"

#include "core/files/file.h"
#include "core/files/folder.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <stdio.h>
#include <string.h>
#include <sys/socket.h>
#include <unistd.h>

static bool
name_file(char path[FILE_PATH_CAPACITY], const bool makes)
{
  Fault fault;
  return !folder_of_data("", path, &fault) &&
         (!makes || !folder_make(path, &fault)) &&
         !folder_of_data("page-address", path, &fault);
}

static bool
read_address(char address[PAGE_ADDRESS_CAPACITY])
{
  char        path[FILE_PATH_CAPACITY];
  FILE* const file = name_file(path, false) ? fopen(path, "rb") : NULL;
  if (!file) {
    return false;
  }
  const bool is_read = fgets(address, PAGE_ADDRESS_CAPACITY, file) != NULL;
  (void)fclose(file);
  return is_read;
}

void
beacon_light(const char* const address)
{
  char  path[FILE_PATH_CAPACITY];
  Fault fault;
  if (name_file(path, true)) { // A second start would be a page of its own
    (void)!file_save(path, address, strlen(address), FILE_PRIVATE, &fault);
  }
}

void
beacon_put_out(const char* const address)
{
  char path[FILE_PATH_CAPACITY];
  char lit[PAGE_ADDRESS_CAPACITY];
  if (read_address(lit) && strcmp(lit, address) == 0 &&
      name_file(path, false)) {
    (void)unlink(path);
  }
}

// Who ended without a word left the file behind
static bool
answers(const unsigned port)
{
  const struct sockaddr_in to        = {.sin_family = AF_INET,
                                        .sin_port   = htons((uint16_t)port),
                                        .sin_addr   = {htonl(INADDR_LOOPBACK)}};
  const int                socket_of = socket(AF_INET, SOCK_STREAM, 0);
  const bool               is_there =
    socket_of >= 0 &&
    connect(socket_of, (const struct sockaddr*)&to, sizeof(to)) == 0;
  if (socket_of >= 0) {
    (void)close(socket_of);
  }
  return is_there;
}

bool
beacon_find(char address[PAGE_ADDRESS_CAPACITY])
{
  unsigned port = 0;
  char     rest = '\0';
  return read_address(address) &&
         sscanf(address, "http://127.0.0.1:%5u/%c", &port, &rest) == 2 &&
         rest == '#' && port <= UINT16_MAX && answers(port);
}
