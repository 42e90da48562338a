#include "core/settings/row.h"

#include <criterion/criterion.h>
#include <criterion/parameterized.h>

#include <inttypes.h>
#include <stdint.h>
#include <stdio.h>
#include <string.h>

typedef struct {
  uint8_t step;
} Own;

// One field of each kind
typedef struct {
  bool        flag;
  bool        either;
  unsigned    word;
  unsigned    count;
  unsigned    length;
  uint8_t     byte;
  uint64_t    whole;
  double      number;
  uint8_t     pitch;
  uint8_t     program;
  char        text[8];
  const char* link;
  Own         own;
} All;

static bool
parse_own(void* const field, const char* const text)
{
  const bool is_one = strlen(text) == 1 && *text >= 'a' && *text <= 'c';
  if (is_one) {
    ((Own*)field)->step = (uint8_t)(*text - 'a');
  }
  return is_one;
}

static const char*
print_own(const void* const field, char* const text)
{
  (void)snprintf(
    text, ROW_TEXT_CAPACITY, "%c", 'a' + ((const Own*)field)->step);
  return text;
}

static const char* const sides[]   = {"left", "right", NULL};
static const char* const paces[]   = {"slow", "middle", "fast", NULL};
static const char* const lengths[] = {"1", "2", "4", NULL};

#define FIELD(field) .offset = offsetof(All, field)

enum {
  FLAG,
  EITHER,
  WORD,
  COUNT,
  LENGTH,
  BYTE,
  WHOLE,
  NUMBER,
  PITCH,
  PROGRAM,
  TEXT,
  LINK,
  OWN,
  N_ROWS,
};

static const Row rows[N_ROWS] = {
  [FLAG]   = {.name = "flag", .kind = ROW_FLAG, FIELD(flag)},
  [EITHER] = {.name = "either",
              .kind = ROW_EITHER,
              FIELD(either),
              .words = sides},
  [WORD]   = {.name = "word", .kind = ROW_WORD, FIELD(word), .words = paces},
  [COUNT] =
    {.name = "count", .kind = ROW_COUNT, FIELD(count), .least = 1, .most = 99},
  [LENGTH]  = {.name = "length",
               .kind = ROW_COUNT,
               FIELD(length),
               .least = 1,
               .most  = 4,
               .words = lengths},
  [BYTE]    = {.name = "in.deep.byte",
               .kind = ROW_BYTE,
               FIELD(byte),
               .least = 5,
               .most  = 24},
  [WHOLE]   = {.name = "whole", .kind = ROW_LONG, FIELD(whole)},
  [NUMBER]  = {.name = "number",
               .kind = ROW_NUMBER,
               FIELD(number),
               .least = -200,
               .most  = 500},
  [PITCH]   = {.name = "pitch", .kind = ROW_PITCH, FIELD(pitch), .most = 127},
  [PROGRAM] = {.name = "program",
               .kind = ROW_PROGRAM,
               FIELD(program),
               .most = 127},
  [TEXT]    = {.name = "text", .kind = ROW_TEXT, FIELD(text), .most = 8},
  [LINK]    = {.name = "link", .kind = ROW_LINK, FIELD(link)},
  [OWN]     = {.name = "own",
               .kind = ROW_OWN,
               FIELD(own),
               .most  = sizeof(Own),
               .parse = parse_own,
               .print = print_own,
               .right = "a, b or c"},
};

// Not what any row reads
static const All before = {
  .word    = 1,
  .count   = 7,
  .length  = 1,
  .byte    = 9,
  .whole   = 77,
  .number  = 0.5,
  .pitch   = 3,
  .program = 3,
  .text    = "was",
  .own     = {2},
};

// Words

typedef struct {
  unsigned row;
  char     said[32];
  char     text[32]; ///< ... and as it is told again
} GoodRow;

ParameterizedTestParameters(row, good)
{
  static GoodRow cases[] = {
    {EITHER, "right", "right"},
    {EITHER, "LEFT", "left"},
    {WORD, "slow", "slow"},
    {WORD, "fast", "fast"},
    {COUNT, "1", "1"},
    {COUNT, "99", "99"},
    {LENGTH, "4", "4"},
    {BYTE, "5", "5"},
    {BYTE, "24", "24"},
    {WHOLE, "0", "0"},
    {WHOLE, "9223372036854775807", "9223372036854775807"},
    {NUMBER, "-200", "-200"},
    {NUMBER, "500", "500"},
    {NUMBER, "12.25", "12.25"},
    // Scientific pitch notation (Young 1939): C4 is middle C, 60
    {PITCH, "C4", "C4"},
    {PITCH, "60", "C4"},
    {PITCH, "Cb4", "B3"},
    {PITCH, "C-1", "C-1"},
    {PITCH, "G9", "G9"},
    {PITCH, "Bb3", "A#3"},
    // General MIDI System, Level 1: sounds are counted from 1
    {PROGRAM, "1", "acoustic grand piano"},
    {PROGRAM, "128", "gunshot"},
    {PROGRAM, "acoustic bass", "acoustic bass"},
    {TEXT, "1234567", "1234567"},
    {TEXT, "", ""},
    {LINK, "here", "here"},
    {OWN, "b", "b"},
  };
  return cr_make_param_array(GoodRow, cases, sizeof(cases) / sizeof(*cases));
}

ParameterizedTest(GoodRow* the_case, row, good)
{
  const Row* const row = &rows[the_case->row];
  All              all = before;
  Fault            fault;
  char             text[ROW_TEXT_CAPACITY];
  cr_assert_eq(row_parse(row, &all, "--it", the_case->said, &fault),
               STATUS_OK,
               "%s",
               fault.text);
  cr_assert_str_eq(row_text(row, &all, text), the_case->text);

  // No other field was touched
  All others = all;
  row_copy(row, &others, &before);
  for (unsigned i = 0; i < N_ROWS; ++i) {
    char was[ROW_TEXT_CAPACITY] = "";
    char is[ROW_TEXT_CAPACITY]  = "";
    if (i != LINK) {
      cr_assert_str_eq(row_text(&rows[i], &others, is),
                       row_text(&rows[i], &before, was),
                       "%s",
                       rows[i].name);
    }
  }
}

typedef struct {
  unsigned row;
  char     said[32];
  Status   status;
  char     says[80];
} BadRow;

ParameterizedTestParameters(row, bad)
{
  static BadRow cases[] = {
    {EITHER, "both", STATUS_SYNTAX, "--it both is neither left nor right"},
    {WORD, "quick", STATUS_SYNTAX, "--it quick is not slow, middle or fast"},
    {WORD, "", STATUS_SYNTAX, "is not slow, middle or fast"},
    {COUNT, "0", STATUS_RANGE, "--it 0 is not a number from 1 to 99"},
    {COUNT, "100", STATUS_RANGE, "is not a number from 1 to 99"},
    {COUNT, "2.5", STATUS_RANGE, "is not a whole number from 1 to 99"},
    {COUNT, "", STATUS_RANGE, "is not a number from 1 to 99"},
    {COUNT, "nan", STATUS_RANGE, "is not a number from 1 to 99"},
    {LENGTH, "3", STATUS_RANGE, "--it 3 is not 1, 2 or 4"},
    {BYTE, "4", STATUS_RANGE, "is not a number from 5 to 24"},
    {BYTE, "25", STATUS_RANGE, "is not a number from 5 to 24"},
    {WHOLE, "-1", STATUS_RANGE, "is not a whole number from 0 to"},
    {WHOLE, "9223372036854775808", STATUS_RANGE, "is not a whole number"},
    {WHOLE, "1x", STATUS_RANGE, "is not a whole number"},
    {NUMBER, "-200.01", STATUS_RANGE, "is not a number from -200 to 500"},
    {NUMBER, "500.01", STATUS_RANGE, "is not a number from -200 to 500"},
    {NUMBER, "5 ms", STATUS_RANGE, "is not a number from -200 to 500"},
    {PITCH, "H4", STATUS_RANGE, "--it H4 is no pitch"},
    {PITCH, "C", STATUS_RANGE, "is no pitch"},
    {PITCH, "128", STATUS_RANGE, "is no pitch"},
    {PITCH, "-1", STATUS_RANGE, "is no pitch"},
    {PITCH, "G#9", STATUS_RANGE, "is no pitch"},
    {PROGRAM, "0", STATUS_RANGE, "is no sound of General MIDI"},
    {PROGRAM, "129", STATUS_RANGE, "is no sound of General MIDI"},
    {PROGRAM, "bass", STATUS_RANGE, "is no sound of General MIDI"},
    {TEXT, "12345678", STATUS_RANGE, "--it is too long; it may have 7 bytes"},
    {TEXT, "a\nb", STATUS_SYNTAX, "--it has a line break in it"},
    {TEXT, "a\rb", STATUS_SYNTAX, "--it has a line break in it"},
    {OWN, "d", STATUS_RANGE, "--it d is not understood; write a, b or c"},
  };
  return cr_make_param_array(BadRow, cases, sizeof(cases) / sizeof(*cases));
}

ParameterizedTest(BadRow* the_case, row, bad)
{
  const Row* const row = &rows[the_case->row];
  All              all = before;
  Fault            fault;
  char             was[ROW_TEXT_CAPACITY];
  char             is[ROW_TEXT_CAPACITY];
  cr_assert_eq(row_parse(row, &all, "--it", the_case->said, &fault),
               the_case->status);
  cr_assert_eq(fault.status, the_case->status);
  cr_assert_not_null(strstr(fault.text, the_case->says), "%s", fault.text);
  cr_assert_str_eq(row_text(row, &all, is), row_text(row, &before, was));
}

Test(row, a_flag_is_said_by_its_name)
{
  All   all = before;
  Fault fault;
  char  text[ROW_TEXT_CAPACITY];
  cr_assert_str_eq(row_text(&rows[FLAG], &all, text), "no");
  cr_assert_eq(row_parse(&rows[FLAG], &all, "--it", NULL, &fault), STATUS_OK);
  cr_assert_str_eq(row_text(&rows[FLAG], &all, text), "yes");
}

// Settings

static All    all;
static Faults faults;

static Status
read_rows_of(const char* const text)
{
  static const char* const others[] = {"other"};
  const Row*               table[N_ROWS];
  Settings*                settings = NULL;
  for (unsigned i = 0; i < N_ROWS; ++i) {
    table[i] = &rows[i];
  }
  faults        = (Faults){.n_faults = 0};
  all           = before;
  Status status = settings_read(&settings, "t", text, strlen(text), &faults);
  if (!status) {
    rows_allow(table, N_ROWS, others, 1, settings_top(settings));
    rows_read(table, N_ROWS, &all, settings_top(settings));
    status = settings_status(settings);
  }
  settings_close(settings);
  return status;
}

Test(row, reads_every_kind_from_a_file)
{
  cr_assert_eq(
    read_rows_of("flag = true; either = \"right\"; word = \"fast\";"
                 "count = 99; length = 4; in = { deep = { byte = 24; }; };"
                 "whole = 2147483647; number = -200; pitch = \"C4\";"
                 "program = 33; text = \"1234567\"; own = \"b\"; other = 1;"),
    STATUS_OK,
    "%s",
    faults.faults[0].text);
  cr_assert(all.flag);
  cr_assert(all.either);
  cr_assert_eq(all.word, 2);
  cr_assert_eq(all.count, 99);
  cr_assert_eq(all.length, 4);
  cr_assert_eq(all.byte, 24);
  cr_assert_eq(all.whole, INT32_MAX);
  cr_assert_float_eq(all.number, -200.0, 1e-12);
  cr_assert_eq(all.pitch, 60);
  cr_assert_eq(all.program, 32); // Acoustic bass, as it is sent
  cr_assert_str_eq(all.text, "1234567");
  cr_assert_eq(all.own.step, 1);
}

Test(row, leaves_what_a_file_does_not_say)
{
  cr_assert_eq(read_rows_of(""), STATUS_OK);
  for (unsigned i = 0; i < N_ROWS; ++i) {
    char was[ROW_TEXT_CAPACITY];
    char is[ROW_TEXT_CAPACITY];
    if (i != LINK) {
      cr_assert_str_eq(row_text(&rows[i], &all, is),
                       row_text(&rows[i], &before, was));
    }
  }
}

typedef struct {
  char     text[64];
  unsigned line;
  char     says[64];
} FaultRow;

ParameterizedTestParameters(row, fault)
{
  static FaultRow cases[] = {
    {"\nflag = 1;", 2, "flag is neither true nor false"},
    {"either = \"both\";", 1, "write left or right"},
    {"word = \"fats\";", 1, "write fast"},
    {"count = 100;", 1, "count 100 is outside 1..99"},
    {"length = 3;", 1, "length 3 will not do; write 1, 2 or 4"},
    {"\n\nin = {\n deep = { byte = 25; }; };", 4, "byte 25 is outside 5..24"},
    {"in = { deep = { bite = 5; }; };", 1, "bite is not known; write byte"},
    {"in = { deeper = { }; };", 1, "deeper is not known; write deep"},
    {"in = { deep = 5; };", 1, "deep holds no settings"},
    {"in = 5;", 1, "in holds no settings"},
    {"numbr = 5;", 1, "numbr is not known; write number"},
    {"othr = 5;", 1, "othr is not known; write other"},
    {"whole = -1;", 1, "whole -1 is outside 0..2147483647"},
    {"number = 501;", 1, "number 501 is outside -200..500"},
    {"program = \"bass\";", 1, "program \"bass\" is not known"},
    {"text = \"12345678\";", 1, "text is longer than 7"},
    {"own = \"d\";", 1, "own \"d\" is not understood; write a, b or c"},
    {"own = 1;", 1, "own is no text"},
  };
  return cr_make_param_array(FaultRow, cases, sizeof(cases) / sizeof(*cases));
}

ParameterizedTest(FaultRow* the_case, row, fault)
{
  cr_assert_eq(read_rows_of(the_case->text), STATUS_SYNTAX);
  cr_assert_eq(faults.n_faults, 1, "%s", the_case->text);
  cr_assert_eq(faults.faults[0].line, the_case->line);
  cr_assert_not_null(
    strstr(faults.faults[0].text, the_case->says), "%s", faults.faults[0].text);
}

// Recordings

Test(row, recalls_what_it_recorded)
{
  const All said = {
    .flag    = true,
    .either  = true,
    .word    = 2,
    .count   = 98,
    .length  = 2,
    .byte    = 23,
    .whole   = UINT64_MAX, // A sum may be any number
    .number  = 1.0 / 3.0,
    .pitch   = 127,
    .program = 127,
    .text    = "a=b",
  };
  for (unsigned i = 0; i < LINK; ++i) {
    const Row* const row = &rows[i];
    char             text[ROW_TEXT_CAPACITY];
    char             again[ROW_TEXT_CAPACITY];
    All              read = before;
    (void)row_record(row, &said, text);
    cr_assert(
      row_recall(row, &read, row->least, row->most, text), "%s", row->name);
    cr_assert_str_eq(row_record(row, &read, again), text);
  }
}

Test(row, recalls_in_the_range_it_is_given)
{
  const Row* const row  = &rows[NUMBER];
  All              read = before;
  cr_assert_not(row_recall(row, &read, -200, 500, "501"));
  cr_assert(row_recall(row, &read, -200, 600, "501"));
  cr_assert_not(row_recall(row, &read, -200, 600, "nan"));
  cr_assert_not(row_recall(row, &read, -200, 600, "5x"));
  cr_assert_not(row_recall(row, &read, -200, 600, ""));
  cr_assert_not(row_recall(&rows[FLAG], &read, 0, 0, "2"));
  cr_assert_not(row_recall(&rows[WORD], &read, 0, 9, "3"));
  cr_assert_not(row_recall(&rows[COUNT], &read, 1, 99, "1.5"));
  cr_assert_not(row_recall(&rows[TEXT], &read, 0, 0, "12345678"));
  cr_assert_not(row_recall(&rows[WHOLE], &read, 0, 0, "x"));
}
