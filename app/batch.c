/* batch.c - spurproof-batch: the whole job with no display and no network */
#include "app/command.h"
#include "app/paths.h" /* made by Meson */

#include "core/quantity/clean.h"
#include "core/quantity/error.h"
#include "ui/picture/coder.h"
#include "ui/words/words.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <malloc.h>
#include <stdio.h>
#include <string.h>

/* by hand: one option a row, whatever its length */
/* clang-format off */
#define OUTPUT { "output", "F", FALSE, N_ ("write to this file instead of standard output; - is standard output (-o F for short)") }
#define JSON { "json", NULL, FALSE, N_ ("JSON, with all digits, instead of a table") }
#define HELP { "help", NULL, FALSE, N_ ("this text") }
#define PARTS \
  { "chain", "F", FALSE, N_ ("the chain's file; overrides a sheet's") }, \
  { "analyzer", "F", FALSE, N_ ("the analyzer's file; overrides a sheet's") }, \
  { "mask", "NAME-or-F", FALSE, N_ ("a mask known by name, or its file; overrides a sheet's") }
#define RADIO { "radio", "NAME=TRACE[;TRACE...]", TRUE, N_ ("a radio and its keyed sweeps, in place of a sheet") }

static const Option read_options[] = { JSON, { "csv", NULL, FALSE, N_ ("the points: frequency_hz,level_dbm") }, OUTPUT, HELP, { NULL } };
static const Option chain_options[] = { { "at", "F,F...", FALSE, N_ ("at these frequencies; left out: where it was measured") },
                                        JSON, OUTPUT, HELP, { NULL } };
static const Option calibrate_options[] = { { "on", "DATE", FALSE, N_ ("how old the run is, is asked on this day; left out: today") },
                                            JSON, OUTPUT, HELP, { NULL } };
static const Option check_options[] = { { "analyzer", "F", FALSE, N_ ("the analyzer's file; left out: what the check names, or a blank one") },
                                        { "on", "DATE", FALSE, N_ ("how old the check is, is asked on this day; left out: today") },
                                        JSON, OUTPUT, HELP, { NULL } };
static const Option mask_options[] = {
  { "fundamental", "F", FALSE, N_ ("the radio's frequency, such as 146.52MHz") },
  { "power", "P", FALSE, N_ ("its mean power, such as 5W or 37dBm") },
  { "bandwidth", "B", FALSE, N_ ("its necessary bandwidth; left out: 16kHz") },
  JSON, OUTPUT, HELP, { NULL },
};
static const Option headroom_options[] = {
  { "power", "P", FALSE, N_ ("the radio's power, such as 5W or 37dBm") },
  { "fundamental", "F", FALSE, N_ ("its frequency; left out: the sheet's") },
  { "attenuation", "A", FALSE, N_ ("the analyzer's attenuation in dB; left out: the keyed sweep's") },
  { "radio", "NAME", TRUE, N_ ("whose chain and analyzer, where a sheet has several; or NAME=TRACE in place of a sheet") },
  PARTS, JSON, OUTPUT, HELP, { NULL },
};
static const Option range_options[] = {
  { "power", "P", FALSE, N_ ("the radio's power, such as 5W or 37dBm") },
  { "fundamental", "F", FALSE, N_ ("its frequency; left out: the sheet's") },
  { "bandwidth", "B", FALSE, N_ ("its necessary bandwidth; left out: the sheet's, else 16kHz") },
  { "rbw", "B", FALSE, N_ ("the analyzer's RBW; left out: the first keyed sweep's, else the advised one") },
  { "attenuation", "A", FALSE, N_ ("its attenuation in dB, likewise") },
  { "longest-key-down", "S", FALSE, N_ ("how long the radio may be keyed at a time, in seconds; left out: the sheet's, else 60") },
  { "radio", "NAME", TRUE, N_ ("whose chain, analyzer and mask, where a sheet has several; or NAME=TRACE in place of a sheet") },
  PARTS, JSON, OUTPUT, HELP, { NULL },
};
static const Option judge_options[] = {
  RADIO, PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  { "monte-carlo", "N", FALSE, N_ ("check each margin's uncertainty with this many draws") },
  { "seed", "S", FALSE, N_ ("where the draws begin; the same seed gives the same draws") },
  { "strict", NULL, FALSE, N_ ("end with 2 unless every verdict is complies") },
  JSON, OUTPUT, HELP, { NULL },
};
static const Option draw_options[] = {
  { "size", "WxH", FALSE, N_ ("in points, pixels of a PNG; left out: 1600x900") },
  { "from", "F", FALSE, N_ ("the chart's lowest frequency") },
  { "to", "F", FALSE, N_ ("its highest") },
  { "log", NULL, FALSE, N_ ("frequencies on a logarithmic axis, as by default where every radio's sweeps reach over two decades") },
  { "linear", NULL, FALSE, N_ ("frequencies on a linear axis") },
  { "by-harmonic", NULL, FALSE, N_ ("each radio over its own carrier, a step aside, on an axis in f/f0; --from and --to are the chosen one's") },
  { "level-from", "L", FALSE, N_ ("the chart's lowest level, in dBm; with --dbc in dBc") },
  { "level-to", "L", FALSE, N_ ("its highest") },
  { "dbc", NULL, FALSE, N_ ("levels relative to the carrier of the radio that is chosen") },
  { "radio", "NAME", TRUE, N_ ("only this radio; or NAME=TRACE[;TRACE...] in place of a sheet") },
  { "dark", NULL, FALSE, N_ ("light ink on a dark sheet") },
  { "judged-only", NULL, FALSE, N_ ("without the faint lines of steps, of what is there unkeyed, and of superseded sweeps") },
  { "format", "png|svg|pdf", FALSE, N_ ("where the file's name does not say it") },
  PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  OUTPUT, HELP, { NULL },
};
static const Option compare_options[] = {
  { "with", "OTHER", FALSE, N_ ("a sheet, or a chain in place of the input's own: what moved, other - input") },
  { "pivot", NULL, FALSE, N_ ("each radio with several conditions as a table: bands down, powers across, the room in a cell") },
  { "dbc", "N", FALSE, N_ ("with --pivot: the level of harmonic N in dBc in place of the room") },
  { "format", "text|csv|html", FALSE, N_ ("with --pivot: how it is written") },
  { "show", "alike|each|notable", FALSE, N_ ("of what moved: those that move alike in a line (text), every one (JSON), only what flips or moves beyond U") },
  RADIO, PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  JSON, OUTPUT, HELP, { NULL },
};
static const Option budget_options[] = {
  { "radio", "NAME", TRUE, N_ ("whose level, where a sheet has several; or NAME=TRACE[;TRACE...] in place of a sheet") },
  { "order", "N", FALSE, N_ ("the harmonic; 1 is the fundamental, its P") },
  { "at", "F", FALSE, N_ ("the emission nearest to this frequency, in place of an order") },
  { "monte-carlo", "N", FALSE, N_ ("beside the first order, propagate the same model with this many draws (to 10000000)") },
  { "seed", "S", FALSE, N_ ("where the draws begin; the same seed gives the same draws") },
  PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  JSON, OUTPUT, HELP, { NULL },
};
static const Option report_options[] = {
  { "radio", "NAME", TRUE, N_ ("whose slip or report; in a spreadsheet whose figure and chart; or NAME=TRACE[;TRACE...] in place of a sheet") },
  { "slip", NULL, FALSE, N_ ("one radio's slip, for its owner, in place of the report: a PDF or a page") },
  { "slips", "DIR", FALSE, N_ ("a slip for each radio, RADIO-SERIAL.pdf, into this folder; in place of -o") },
  { "paper", "a4|letter|a5", FALSE, N_ ("the sheet of a PDF; left out: the .report file's, else a4") },
  { "document", "F.report", FALSE, N_ ("title, letterhead, introduction, conclusions, parts and remarks of the paper; left out: the sheet's") },
  PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  { "traces", NULL, FALSE, N_ ("every sweep's points in the spreadsheet too, and a chart made from them") },
  { "format", "xlsx|pdf|html", FALSE, N_ ("where the file's name does not say it") },
  OUTPUT, HELP, { NULL },
};
static const Option figures_options[] = {
  { "directory", "DIR", FALSE, N_ ("the folder that the files go into; it is made (-d for short)") },
  { "format", "svg,pdf,png", FALSE, N_ ("which of them; left out: all three") },
  { "width-mm", "W", FALSE, N_ ("how wide each is, in mm, from 80 to 600; left out: 160") },
  { "dpi", "N", FALSE, N_ ("of PNG, pixels an inch, from 72 to 600; left out: 300") },
  { "dark", NULL, FALSE, N_ ("light ink on a dark sheet") },
  { "grey", NULL, FALSE, N_ ("without a colour; left out: black ink, the limit red") },
  RADIO, PARTS,
  { "rule", "guarded|simple", FALSE, N_ ("the decision rule; wins over the sheet's") },
  HELP, { NULL },
};
static const Option width_options[] = {
  { "from", "F", FALSE, N_ ("only what lies above this frequency") },
  { "to", "F", FALSE, N_ ("and below this one") },
  { "channel", "B", FALSE, N_ ("the width of a channel, such as 16kHz; left out: by the signal") },
  { "spacing", "B", FALSE, N_ ("the distance between channels, such as 25kHz; left out: by the channel") },
  { "center", "F", FALSE, N_ ("the middle of the channel; left out: of the occupied bandwidth") },
  { "analyzer", "F", FALSE, N_ ("the analyzer's file, for the shape of its filter; left out: a Gaussian one") },
  JSON, OUTPUT, HELP, { NULL },
};
static const Option pack_options[] = { { "output", "BOOK.benchbook", FALSE, N_ ("the book to be made; one that is there is replaced (-o for short)") },
                                       { "list", "F", FALSE, N_ ("a table of radios and planned conditions, put on the bench before it is packed") },
                                       { "conditions", "NAMES", FALSE, N_ ("of every radio of the list that names none, such as \"2 m high, 70 cm high\"") },
                                       { "radios-of", "F", FALSE, N_ ("a sheet or a book whose radios come along, without their sweeps") },
                                       HELP, { NULL } };
static const Option unpack_options[] = { { "directory", "DIR", FALSE, N_ ("a new folder, or an empty one (-d for short)") }, HELP, { NULL } };
const Command commands[] = {
  { "judge", "INPUT [--json] [--rule R] [--monte-carlo N --seed S] [--strict] [-o F]", N_ ("emissions and verdicts"), judge_options, command_judge },
  { "draw", "INPUT -o F.png|svg|pdf [--size 1600x900] [--from F --to F] [--log] [--linear] [--by-harmonic] [--level-from L --level-to L] [--dbc] [--radio NAME] [--dark] [--judged-only]", N_ ("the chart"), draw_options, command_draw },
  { "compare", "INPUT [--with OTHER] [--pivot] [--json] [-o F]", N_ ("conditions side by side; or what moved between two judgings"),
    compare_options, command_compare },
  { "budget", "INPUT --radio NAME --order N|--at F [--monte-carlo N --seed S] [--json] [-o F]",
    N_ ("every term behind one level's uncertainty"), budget_options, command_budget },
  { "report", "INPUT -o F.xlsx|pdf|html|--slips DIR [--slip] [--traces] [--radio NAME] [--paper a4|letter|a5] [--rule R]", N_ ("everything as a spreadsheet that works it again, as a report, or as a slip for a radio's owner"), report_options, command_report },
  { "figures", "INPUT -d DIR [--format svg,pdf,png] [--width-mm 160] [--dpi 300] [--dark|--grey] [--rule R]", N_ ("every figure as a file of its own, and captions.txt with what each shows"), figures_options, command_figures },
  { "pack", "BENCH.sheet -o BOOK.benchbook [--list F] [--conditions NAMES] [--radios-of F]", N_ ("a sheet and every file it names, in one bench book"), pack_options, command_pack },
  { "unpack", "BOOK.benchbook -d DIR", N_ ("a bench book as a sheet and its files, byte for byte"), unpack_options, command_unpack },
  { "chain", "CHAIN [--at F,F...] [--json] [-o F]", N_ ("loss and uncertainty, stage by stage"), chain_options, command_chain },
  { "calibrate", "RUN.run [--on DATE] [--json] [-o F]", N_ ("a stage's loss by substitution, its uncertainty and budget"), calibrate_options,
    command_calibrate },
  { "check", "CHECK.run [--analyzer F] [--on DATE] [--json] [-o F]",
    N_ ("what is to be added to an analyzer's readings, and what is left of its stated errors"), check_options, command_check },
  { "headroom", "INPUT --power P [--fundamental F] [--json] [-o F]", N_ ("level and rating at each stage, and single faults"),
    headroom_options, command_headroom },
  { "range", "INPUT --power P --fundamental F [--rbw B] [--attenuation A] [--longest-key-down S] [--json] [-o F]",
    N_ ("floor against limit before keying, what would prove it, how to sweep"), range_options, command_range },
  { "mask", "[NAME --fundamental F --power P] [--json] [-o F]", N_ ("the masks known; or one, evaluated"), mask_options, command_mask },
  { "read", "TRACE... [--json] [--csv] [-o F]", N_ ("what the reader understood; or the points"), read_options, command_read },
  { "width", "TRACE [--from F --to F] [--channel B] [--spacing B] [--json] [-o F]",
    N_ ("occupied bandwidth, x dB widths, power in a channel and beside it"), width_options, command_width },
  { NULL },
};
/* clang-format on */

/* (transfer full) */
static char *
help_text (void)
{
  GString *text = g_string_new (
      _ ("spurproof-batch: is a transmitter clean, and how sure can one be?\n\nusage: spurproof-batch COMMAND ...\n\n"));
  for (const Command *command = commands; command->name; command++)
    g_string_append_printf (text, "  %-9s %s\n            %s\n", command->name, command->synopsis, _ (command->summary));
  g_string_append_printf (
      text,
      _ ("\nINPUT is BENCH.sheet, BOOK.benchbook, or --radio NAME=TRACE[;TRACE...] with --chain F --analyzer F --mask NAME-or-F; "
         "these override a\n"
         "sheet's. Settings that an export lacks: FILE?rbw=10kHz&attenuation=20&detector=rms; a mark of a file's own name stands in\n"
         "it as %%3F (?), %%25 (%%) or %%3B (;). TRACE that is as a whole the name of a file is that file; it may be a pipe, all else "
         "must be a\n"
         "regular file. A byte that is no UTF-8 stands in JSON, tables and messages as %%XX. Ends with 0 when done, 1 where the call "
         "or the\n"
         "input cannot be understood, 2 with --strict where not every verdict is complies.\n"
         "spurproof-batch COMMAND --help lists a command's options.\n\n%s\n"),
      sp_words_cautions ());
  return g_string_free (text, FALSE);
}

/* (transfer full) */
static char *
command_help_text (const Command *command)
{
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, _ ("usage: spurproof-batch %s %s\n%s\n\n"), command->name, command->synopsis, _ (command->summary));
  for (const Option *option = command->options; option->name; option++)
    g_string_append_printf (text, "  --%s%s%s\n      %s\n", option->name, option->value ? " " : "", option->value ? option->value : "",
                            _ (option->help));
  return g_string_free (text, FALSE);
}

static gboolean
unknown_command (const char *word, GError **error)
{
  GString *names = g_string_new (NULL);
  for (const Command *command = commands; command->name; command++)
    g_string_append_printf (names, "%s%s", names->len ? ", " : "", command->name);
  g_autofree char *list = g_string_free (names, FALSE);
  if (!word)
    return sp_fail (error, SP_ERROR_USAGE, _ ("a command is needed: %s (or --help, --version)"), list);
  return sp_fail (error, SP_ERROR_USAGE, _ ("there is no command %s: the commands are %s (or --help, --version)"), word, list);
}

static int
run (char *const *words, GError **error)
{
  const char *word = words[0];
  if (word && (strcmp (word, "--help") == 0 || strcmp (word, "-h") == 0)) {
    g_autofree char *help = help_text ();
    return output_plain (help, error) ? DONE : FAILED;
  }
  if (word && strcmp (word, "--version") == 0) {
    g_autofree char *version = g_strdup_printf ("spurproof-batch %s\n", SP_VERSION);
    return output_plain (version, error) ? DONE : FAILED;
  }
  for (const Command *command = commands; word && command->name; command++)
    if (strcmp (command->name, word) == 0) {
      g_autoptr (Arguments) arguments = arguments_parse (words + 1, command->options, error);
      if (!arguments)
        return FAILED;
      if (!arguments_have (arguments, "help"))
        return command->run (arguments, error);
      g_autofree char *help = command_help_text (command);
      return output_plain (help, error) ? DONE : FAILED;
    }
  unknown_command (word, error);
  return FAILED;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  /* One heap for all threads. A heap for each reserves 64 MiB of address space: where that is short, Pango's threads, which look for fonts, get no
   * memory, and GLib or fontconfig ends the program. */
  mallopt (M_ARENA_MAX, 1);
  /* the language and the characters of the user, but never his numbers: what is printed here is read by programs */
  setlocale (LC_CTYPE, "");
  setlocale (LC_MESSAGES, "");
  bindtextdomain (GETTEXT_PACKAGE, SP_LOCALE_FOLDER);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  sp_picture_start ();
  int done = run (argv + (argc > 0 ? 1 : 0), &error);
  if (error) {
    g_autofree char *message = sp_clean (error->message);
    g_printerr ("spurproof-batch: %s\n", message);
  }
  return error ? FAILED : done;
}
