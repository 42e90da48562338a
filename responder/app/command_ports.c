#include "responder/app/command.h"

#include "core/ports/system.h"

static int
tell_side(Ports* const ports, const PortSide side, const char* const title)
{
  PortList list;
  Fault    fault;
  unsigned obvious = 0;
  if (ports_list(ports, side, &list)) {
    command_say("the MIDI system %s has gone", ports_name(ports));
    return EXIT_SYSTEM;
  }
  const bool has_obvious = !ports_choose(&list, side, NULL, &obvious, &fault);
  (void)printf("%s\n", title);
  for (unsigned i = 0; i < list.n_names; ++i) {
    (void)printf("  %2u  %s%s\n",
                 i + 1,
                 list.names[i],
                 side == PORT_IN && has_obvious && i == obvious
                   ? "  (taken if you name none)"
                   : "");
  }
  if (!list.n_names) {
    (void)printf("  none\n");
  }
  return EXIT_DONE;
}

static int
run(const Options* const options)
{
  Ports* ports = NULL;
  Fault  fault;
  char   remark[SYSTEM_REMARK_CAPACITY];
  if (options->n_operands) {
    return command_misuse("ports takes no file");
  }
  if (system_open(&ports, options->midi, remark, &fault)) {
    return command_fail(&fault);
  }
  if (remark[0]) {
    command_say("%s; using %s", remark, ports_name(ports));
  }
  const int ins  = tell_side(ports, PORT_IN, "Inputs (--in)");
  const int outs = tell_side(ports, PORT_OUT, "Outputs (--out)");
  ports_close(ports);
  return ins ? ins : outs;
}

const Command command_ports = {
  .name     = "ports",
  .operands = "",
  .summary  = "list the MIDI ports",
  .words =
    "Lists the keyboards that can be heard and where notes can be sent. Their\n"
    "numbers, or any part of a name that only one has, are for --in and --out\n"
    "of barter trade.",
  .options = OPTION_BIT(OPTION_MIDI),
  .run     = run,
};
