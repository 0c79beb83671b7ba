#include "core/trace/words.h"

#include <string.h>

/* A line of spellings, folded, separated by '|'. */
typedef struct {
  int value;
  const char *spellings;
} Entry;

static const Entry settings[] = {
  { SP_WORD_START, "start|start frequency|start freq|frequency start|freq start|f start|fstart|from|startfrequenz|start frequenz|anfangsfrequenz|"
                   "frequence de depart|frequence debut|frequence de debut|depart|frecuencia inicial|frecuencia de inicio|inicio|frequenza iniziale|frequenza di inizio|inizio" },
  { SP_WORD_STOP, "stop|stop frequency|stop freq|frequency stop|freq stop|f stop|fstop|end frequency|end|to|stopfrequenz|stoppfrequenz|stop frequenz|endfrequenz|"
                  "frequence d arret|frequence de fin|frequence fin|frequence finale|arret|frecuencia final|frecuencia de parada|final|frequenza finale|frequenza di fine|fine|frequenza di stop" },
  { SP_WORD_CENTER, "center|centre|center frequency|centre frequency|center freq|centre freq|cf|mittenfrequenz|mitte|"
                    "frequence centrale|centrale|frecuencia central|frequenza centrale|fc|f center" },
  { SP_WORD_SPAN, "span|frequency span|freq span|spanne|frequenzbereich|darstellbreite|frequenzhub|etendue|plage|excursion|plage de frequence|ancho de barrido|intervalo|f span|span di frequenza" },
  { SP_WORD_RBW, "rbw|res bw|resbw|resolution bandwidth|resolution bw|if bandwidth|if bw|ifbw|rb|aufloesungsbandbreite|auflosungsbandbreite|zf bandbreite|"
                 "bande de resolution|largeur de bande de resolution|bande passante de resolution|bande passante d analyse|ancho de banda de resolucion|banda di risoluzione|larghezza di banda di risoluzione" },
  { SP_WORD_VBW, "vbw|video bw|videobw|video bandwidth|vid bw|vb|videobandbreite|video bandbreite|"
                 "bande video|largeur de bande video|bande passante video|ancho de banda de video|banda video|larghezza di banda video" },
  { SP_WORD_REFERENCE, "ref|ref level|ref lvl|reflevel|reference|reference level|rl|referenzpegel|bezugspegel|referenz|"
                       "niveau de reference|nivel de referencia|livello di riferimento" },
  { SP_WORD_OFFSET, "ref offset|reference offset|reference level offset|ref level offset|ref lvl offset|level offset|amplitude offset|external gain|ext gain|"
                    "pegeloffset|pegel offset|decalage de niveau|desplazamiento de nivel|offset di livello" },
  { SP_WORD_ATTENUATION, "att|atten|attenuation|attenuator|rf att|rf atten|rf attenuation|input attenuation|input att|mechanical attenuation|"
                         "daempfung|dampfung|eingangsdampfung|eingangsdaempfung|hf dampfung|hf daempfung|attenuation d entree|attenuation rf|attenuateur|atenuacion|atenuador|atenuacion de entrada|attenuazione|attenuatore|attenuazione d ingresso" },
  { SP_WORD_DETECTOR, "detector|det|detector type|detector mode|detection|detektor|detecteur|detection mode|rivelatore" },
  { SP_WORD_AVERAGE_KIND, "average type|avg type|average mode|averaging|averaging type|averaging mode|mittelungsart|mittelung|type de moyenne|tipo de promedio|tipo di media|average domain" },
  { SP_WORD_AVERAGES, "averages|average count|avg count|number of averages|avg number|average number|sweep count|sweeps|average hold number|"
                      "mittelungen|anzahl mittelungen|anzahl der mittelungen|nombre de moyennes|moyennes|numero de promedios|promedios|numero di medie|medie" },
  { SP_WORD_TRACE_MODE, "trace mode|trace type|mode|hold|messkurve|kurvenmodus|mode de trace|modo de traza|modo traccia" },
  { SP_WORD_SWEEP_TIME, "swt|sweep time|sweeptime|sweep|st|sweepzeit|ablaufzeit|ablenkzeit|wobbelzeit|temps de balayage|duree de balayage|tiempo de barrido|tempo di scansione|tempo di sweep" },
  { SP_WORD_POINTS, "points|sweep points|number of points|trace points|no of points|num points|npoints|n points|trace length|values|number of values|"
                    "punkte|messpunkte|anzahl punkte|anzahl der punkte|punktzahl|anzahl messpunkte|nombre de points|puntos|numero de puntos|punti|numero di punti" },
  { SP_WORD_FREQUENCY_UNIT, "frequency unit|freq unit|x unit|x axis unit|x axis units|xunit|unit x|frequency units|frequenzeinheit|x einheit|unite de frequence|unidad de frecuencia|unita di frequenza" },
  { SP_WORD_LEVEL_UNIT, "unit|units|level unit|amplitude unit|amplitude units|power unit|y unit|y axis unit|y axis units|yunit|unit y|einheit|pegeleinheit|y einheit|unite|unite de niveau|unidad|unidad de nivel|unita|unita di livello" },
};

static const Entry columns[] = {
  { SP_WORD_FREQUENCY, "f|freq|frequency|frequencies|x|x axis|x value|frequenz|frequence|frecuencia|frequenza|hz|khz|mhz|ghz|\xe5\x91\xa8\xe6\xb3\xa2\xe6\x95\xb0" },
  { SP_WORD_LEVEL, "level|amplitude|ampl|amp|power|mag|magnitude|y|y axis|y value|value|trace|reading|pegel|amplitud|leistung|spannung|voltage|puissance|niveau|tension|"
                   "nivel|potencia|tension|livello|ampiezza|potenza|tensione|dbm|dbmv|dbuv|max hold|min hold|clear write|average|peak|rms|\xe3\x83\xac\xe3\x83\x99\xe3\x83\xab" },
  { SP_WORD_INDEX, "index|idx|i|n|no|nr|number|point|points|point number|sample|row|line|punkt|nummer|numero|punto|num|bin" },
  { SP_WORD_TIME, "time|t|timestamp|time stamp|date|zeit|uhrzeit|datum|temps|heure|tiempo|hora|tempo|ora|fecha|data" },
};

static const Entry detectors[] = {
  { SP_DETECTOR_PEAK, "peak|pk|pos|positive|pos peak|positive peak|peak positive|max peak|maximum peak|max|maxpeak|spitze|spitzenwert|crete|pico|pico positivo|picco" },
  { SP_DETECTOR_SAMPLE, "sample|samp|sampled|smpl|abtastwert|momentanwert|echantillon|echantillonnage|muestra|muestreo|campione" },
  { SP_DETECTOR_RMS, "rms|power rms|effektivwert|effektiv|efficace|valeur efficace|eficaz|valor eficaz|valore efficace" },
  { SP_DETECTOR_AVERAGE, "average|avg|aver|mean|mittelwert|moyenne|valeur moyenne|promedio|media" },
  { SP_DETECTOR_NEGATIVE, "negative|neg|neg peak|negative peak|min peak|min|minimum|minpeak|negativ|pico negativo|picco negativo|crete negative" },
  { SP_DETECTOR_NORMAL, "normal|norm|auto peak|autopeak|rosenfell|alternating|pos neg" },
  { SP_DETECTOR_QUASI_PEAK, "quasi peak|quasipeak|qp|qpeak|quasispitze|quasi crete|cuasi pico|quasi picco" },
};

static const Entry averages[] = {
  { SP_AVERAGE_NONE, "none|off|no|0|aus|keine|aucune|ninguno|nessuna" },
  { SP_AVERAGE_POWER, "power|pwr|rms|pwr avg|power average|leistung|puissance|potencia|potenza" },
  { SP_AVERAGE_LOG, "log|log power|log pwr|logarithmic|video|log average|lgpwr|db|logarithmisch|logarithmique|logaritmico" },
  { SP_AVERAGE_VOLTAGE, "voltage|volt|lin|linear|voltage average|spannung|tension|tensione" },
};

enum { MODE_MAX, MODE_MIN, MODE_WRITE, MODE_AVERAGE };
static const Entry modes[] = {
  { MODE_MAX, "max hold|maxhold|maximum hold|max|peak hold|maxh|maximum halten|maintien max|retencion maxima" },
  { MODE_MIN, "min hold|minhold|minimum hold|min|minh|minimum halten" },
  { MODE_WRITE, "clear write|clearwrite|clrwr|clrw|write|normal|live|off|none|clear|view|blank" },
  { MODE_AVERAGE, "average|avg|averaging|aver|mittelwert|moyenne|promedio|media" },
};

char *
sp_words_fold (const char *text, gssize length)
{
  g_autofree char *valid = g_utf8_make_valid (text, length);
  g_autofree char *apart = g_utf8_normalize (valid, -1, G_NORMALIZE_ALL);
  g_autofree char *lower = g_utf8_casefold (apart, -1);
  GString *out = g_string_new (NULL);
  gboolean gap = FALSE;

  for (const char *p = lower; *p; p = g_utf8_next_char (p)) {
    gunichar c = g_utf8_get_char (p);
    if (g_unichar_ismark (c) && c < 0x370) /* combining accents of the Latin script; others are letters' parts */
      continue;
    if (!g_unichar_isalnum (c)) {
      gap = out->len > 0;
      continue;
    }
    if (gap)
      g_string_append_c (out, ' ');
    gap = FALSE;
    g_string_append_unichar (out, c);
  }
  return g_string_free (out, FALSE);
}

static gboolean
find (const Entry *entries, gsize n, const char *folded, int *value)
{
  gsize length = strlen (folded);

  if (length == 0)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    for (const char *p = entries[i].spellings; p; p = strchr (p, '|') ? strchr (p, '|') + 1 : NULL)
      if (strncmp (p, folded, length) == 0 && (p[length] == '|' || p[length] == '\0')) {
        *value = entries[i].value;
        return TRUE;
      }
  return FALSE;
}

#define FIND(table, folded, value) find (table, G_N_ELEMENTS (table), folded, value)

SpWord
sp_words_setting (const char *folded)
{
  int value = SP_WORD_NONE;
  FIND (settings, folded, &value);
  return value;
}

SpWord
sp_words_column (const char *folded)
{
  int value = SP_WORD_NONE;
  FIND (columns, folded, &value);
  return value;
}

gboolean
sp_words_detector (const char *folded, SpDetector *out)
{
  int value;
  if (!FIND (detectors, folded, &value))
    return FALSE;
  *out = value;
  return TRUE;
}

gboolean
sp_words_average (const char *folded, SpAverage *out)
{
  int value;
  if (!FIND (averages, folded, &value))
    return FALSE;
  *out = value;
  return TRUE;
}

gboolean
sp_words_trace_mode (const char *folded, SpHold *out, gboolean *averaging)
{
  int value;
  if (!FIND (modes, folded, &value))
    return FALSE;
  *out = value == MODE_MAX ? SP_HOLD_MAX : value == MODE_MIN ? SP_HOLD_MIN : SP_HOLD_NONE;
  *averaging = value == MODE_AVERAGE;
  return TRUE;
}
