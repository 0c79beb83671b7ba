/* command-range.c - before anything is keyed: is the range deep enough, and how should one sweep */
#include "app/command.h"

#include "core/quantity/error.h"
#include "ui/report/json.h"
#include "ui/report/table.h"

#include <glib/gi18n.h>
#include <math.h>

/* What is planned for; the parts are owned. */
typedef struct {
  SpChain *chain;
  SpAnalyzer *analyzer;
  SpMask *mask;
  SpTrace *trace; /* the first keyed one; NULL */
  GArray *pads;   /* NULL */
  SpTask task;
} Asked;

static void
clear_asked (Asked *asked)
{
  g_clear_pointer (&asked->chain, sp_chain_unref);
  g_clear_pointer (&asked->analyzer, sp_analyzer_unref);
  g_clear_pointer (&asked->mask, sp_mask_unref);
  g_clear_pointer (&asked->trace, sp_trace_unref);
  g_clear_pointer (&asked->pads, g_array_unref);
}

static gboolean
fill_from_bench (Asked *asked, const SpBench *bench, const char *radio, GError **error)
{
  int index = radio ? input_condition (bench, radio, error) : 0;
  if (index < 0)
    return FALSE;
  if (!bench->n_conditions)
    return sp_fail (error, SP_ERROR_USAGE, _ ("%s: there is no radio in it"), bench->file);
  const SpCondition *condition = &bench->conditions[index];
  gboolean assumed;
  asked->chain = sp_chain_ref (sp_condition_chain (bench, condition));
  asked->analyzer = sp_analyzer_ref (sp_condition_analyzer (bench, condition));
  asked->mask = sp_mask_ref (sp_condition_mask (bench, condition));
  for (guint i = 0; i < condition->n_sweeps && !asked->trace; i++)
    if (condition->sweeps[i].purpose == SP_PURPOSE_KEYED)
      asked->trace = sp_trace_ref (condition->sweeps[i].trace);
  asked->pads = bench->pads ? g_array_ref (bench->pads) : NULL;
  asked->task.n_pads = asked->pads ? asked->pads->len : 0;
  asked->task.pads = asked->pads ? (const SpPad *) (void *) asked->pads->data : NULL;
  asked->task.temperature_c = bench->temperature_c;
  asked->task.duty = condition->duty;
  asked->task.radio_vswr = bench->radio_vswr;
  asked->task.radio_harmonic_vswr = bench->radio_harmonic_vswr;
  asked->task.decision_rule = bench->decision_rule;
  sp_task_take_condition (&asked->task, bench, condition);
  if (isnan (asked->task.fundamental_hz))
    asked->task.fundamental_hz = condition->fundamental_hz;
  if (isnan (asked->task.necessary_bandwidth_hz))
    asked->task.necessary_bandwidth_hz = sp_condition_bandwidth_hz (bench, condition, &assumed);
  asked->task.signal_hz = sp_condition_signal_hz (bench, condition, asked->task.necessary_bandwidth_hz);
  return TRUE;
}

static gboolean
fill_resources (Asked *asked, const Arguments *arguments, GError **error)
{
  gboolean all = arguments_have (arguments, "chain") && arguments_have (arguments, "analyzer") && arguments_have (arguments, "mask");
  if (all && !arguments->rest->len && !arguments_have (arguments, "radio"))
    return input_resources (arguments, &asked->chain, &asked->analyzer, &asked->mask, error);
  g_autoptr (SpBench) bench = input_bench (arguments, error);
  return bench && fill_from_bench (asked, bench, input_radio_named (arguments), error);
}

static gboolean
fill_asked (Asked *asked, const Arguments *arguments, GError **error)
{
  SpTask *task = &asked->task;
  if (!arguments_frequency (arguments, "fundamental", &task->fundamental_hz, error)
      || !arguments_power (arguments, "power", &task->power_w, error)
      || !arguments_frequency (arguments, "bandwidth", &task->necessary_bandwidth_hz, error))
    return FALSE;
  if (!(task->power_w > 0))
    return sp_fail (error, SP_ERROR_USAGE, _ ("the radio's power is needed: --power 5W or --power 37dBm"));
  if (!fill_resources (asked, arguments, error))
    return FALSE;
  if (!(task->fundamental_hz > 0))
    return sp_fail (error, SP_ERROR_USAGE, _ ("the radio's frequency is needed: --fundamental 146.52MHz"));
  if (!arguments_number (arguments, "longest-key-down", &task->longest_key_down_s, error))
    return FALSE;
  if (arguments_have (arguments, "longest-key-down") && !(task->longest_key_down_s > 0))
    return sp_fail (error, SP_ERROR_USAGE, _ ("--longest-key-down %g: a time in seconds above 0 was expected"), task->longest_key_down_s);
  if (isnan (task->necessary_bandwidth_hz))
    task->necessary_bandwidth_hz = 16e3;
  if (isnan (task->signal_hz))
    task->signal_hz = task->necessary_bandwidth_hz;
  task->chain = asked->chain;
  task->analyzer = asked->analyzer;
  task->mask = asked->mask;
  task->fundamental_half_hz = SP_STATED_RELATIVE * task->fundamental_hz;
  return TRUE;
}

static gboolean
setting_asked (const Arguments *arguments, double *rbw_hz, double *attenuation_db, GError **error)
{
  if (!arguments_frequency (arguments, "rbw", rbw_hz, error) || !arguments_number (arguments, "attenuation", attenuation_db, error))
    return FALSE;
  if (*rbw_hz <= 0)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--rbw: a bandwidth above 0 was expected"));
  if (*attenuation_db < 0 || *attenuation_db > 200)
    return sp_fail (error, SP_ERROR_USAGE, _ ("--attenuation %g: 0 to 200 dB was expected"), *attenuation_db);
  return TRUE;
}

int
command_range (const Arguments *arguments, GError **error)
{
  Asked asked = { .task = { .power_w = NAN,
                            .fundamental_hz = NAN,
                            .necessary_bandwidth_hz = NAN,
                            .temperature_c = NAN,
                            .duty = 1,
                            .radio_vswr = NAN,
                            .radio_harmonic_vswr = NAN,
                            .signal_hz = NAN,
                            .signal_folds = TRUE } };
  double rbw_hz = NAN, attenuation_db = NAN;
  gboolean done = setting_asked (arguments, &rbw_hz, &attenuation_db, error) && fill_asked (&asked, arguments, error);
  if (done) {
    g_autoptr (SpPlan) plan = sp_plan_new (&asked.task);
    SpSetting setting = sp_plan_setting (plan, asked.trace, rbw_hz, attenuation_db);
    gboolean json = arguments_have (arguments, "json");
    g_autofree char *text = json ? sp_json_range (plan, &setting) : sp_table_range (plan, &setting);
    done = json ? output_machine (arguments, text, error) : output_text (arguments, text, error);
  }
  clear_asked (&asked);
  return done ? DONE : FAILED;
}
