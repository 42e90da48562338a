#include "responder/page/base64.h"

#include "responder/page/server_module.h"

static const ServerModule*
find_module(void)
{
  const void* table = NULL;
  Fault       fault;
  return module_open(SERVER_MODULE, &table, &fault) ? NULL : table;
}

char*
base64_text(const void* const bytes, const size_t size)
{
  const ServerModule* const module = find_module();
  return module ? module->to_base64(bytes, size) : NULL;
}

char*
base64_bytes(const char* const text, size_t* const size)
{
  const ServerModule* const module = find_module();
  return module ? module->from_base64(text, size) : NULL;
}
