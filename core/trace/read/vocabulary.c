/* vocabulary.c - the words of instruments for settings and columns, in several languages */
#include "core/trace/read/vocabulary.h"

#include <string.h>

/* A line of spellings, folded, separated by '|'. */
typedef struct {
  int value;
  const char *spellings;
} Entry;

static const Entry settings[] = {
  { SP_WORD_START,
    "start|start frequency|start freq|frequency start|freq start|f start|fstart|from|startfrequenz|start frequenz|"
    "anfangsfrequenz|frequence de depart|frequence debut|frequence de debut|depart|frecuencia inicial|"
    "frecuencia de inicio|inicio|frequenza iniziale|frequenza di inizio|inizio|開始周波数|スタート周波数|スタート|開始|sweep start|"
    "startfreq|start f|von|frequence initiale|frequenza inizio|frecuencia arranque" },
  { SP_WORD_STOP, "stop|stop frequency|stop freq|frequency stop|freq stop|f stop|fstop|end frequency|end|to|stopfrequenz|"
                  "stoppfrequenz|stop frequenz|endfrequenz|frequence d arret|frequence de fin|frequence fin|frequence finale|arret|"
                  "frecuencia final|frecuencia de parada|final|frequenza finale|frequenza di fine|fine|frequenza di stop|終了周波数|"
                  "停止周波数|ストップ周波数|ストップ|終了|sweep stop|stopfreq|stop f|bis|frequenza fine|frecuencia de fin|frequence stop|"
                  "upper frequency|終端周波数" },
  { SP_WORD_CENTER,
    "center|centre|center frequency|centre frequency|center freq|centre freq|cf|mittenfrequenz|mitte|"
    "frequence centrale|centrale|frecuencia central|frequenza centrale|fc|f center|中心周波数|センター周波数|センタ周波数|センター|"
    "center f|mittelfrequenz|zentralfrequenz|frequence de centre|frecuencia de centro|frequenza di centro|中央周波数" },
  { SP_WORD_SPAN,
    "span|frequency span|freq span|spanne|frequenzbereich|darstellbreite|frequenzhub|etendue|plage|excursion|"
    "plage de frequence|ancho de barrido|intervalo|f span|span di frequenza|スパン|周波数スパン|掃引幅|sweep span|span frequency|"
    "frequenzspanne|darstellbereich|excursion de frequence|etendue de frequence|rango|rango de frecuencia|"
    "ampiezza di scansione|intervallo|周波数幅" },
  { SP_WORD_RBW, "rbw|res bw|resbw|resolution bandwidth|resolution bw|if bandwidth|if bw|aufloesungsbandbreite|"
                 "auflosungsbandbreite|zf bandbreite|bande de resolution|largeur de bande de resolution|"
                 "bande passante de resolution|bande passante d analyse|ancho de banda de resolucion|banda di risoluzione|"
                 "larghezza di banda di risoluzione|分解能帯域幅|分解能帯域|解像度帯域幅|resolution filter|rbw filter|aufloesebandbreite|"
                 "auflosebandbreite|zf filter|filtre de resolution|largeur de resolution|ancho de resolucion|filtro de resolucion|"
                 "filtro di risoluzione|banda di analisi|分解能|分解能バンド幅|rbw 分解能帯域幅" },
  { SP_WORD_VBW,
    "vbw|video bw|videobw|video bandwidth|vid bw|videobandbreite|video bandbreite|bande video|largeur de bande video|"
    "bande passante video|ancho de banda de video|banda video|larghezza di banda video|ビデオ帯域幅|ビデオ帯域|映像帯域幅|"
    "video filter|vbw filter|videofilter|filtre video|filtro de video|filtro video|ancho de video|ビデオフィルタ|ビデオバンド幅" },
  { SP_WORD_REFERENCE,
    "ref|ref level|reflevel|reference|reference level|referenzpegel|bezugspegel|referenz|niveau de reference|"
    "nivel de referencia|livello di riferimento|基準レベル|リファレンスレベル|参照レベル|ref lvl|reflvl|rlev|rl|ref pegel|niveau ref|"
    "niveau de ref|nivel ref|nivel de ref|livello rif|livello di rif|リファレンス|基準値" },
  { SP_WORD_OFFSET, "ref offset|reference offset|reference level offset|ref level offset|level offset|amplitude offset|external gain|"
                    "ext gain|pegeloffset|pegel offset|decalage de niveau|desplazamiento de nivel|offset di livello|レベルオフセット|"
                    "基準レベルオフセット|ref lvl offset|rlev offset|transducer|gain externe|ganancia externa|guadagno esterno" },
  { SP_WORD_ATTENUATION,
    "att|atten|attenuation|attenuator|rf att|rf atten|rf attenuation|input attenuation|input att|daempfung|dampfung|"
    "eingangsdampfung|eingangsdaempfung|hf dampfung|hf daempfung|attenuation d entree|attenuation rf|attenuateur|"
    "atenuacion|atenuador|atenuacion de entrada|attenuazione|attenuatore|attenuazione d ingresso|減衰量|入力減衰量|入力減衰|"
    "アッテネータ|アッテネーター|減衰器|rf減衰量|rf 減衰量|input atten|att rf|atten rf|hf att|rf daempfung|rf dampfung|eingangsabschwacher|"
    "abschwaecher|abschwacher|attenuation entree|attenuation hf|atenuacion rf|atenuador rf|atenuacion entrada|"
    "attenuazione rf|attenuazione ingresso|入力アッテネータ|入力アッテネーター|rfアッテネータ|rf アッテネータ|アッテネーション" },
  { SP_WORD_DETECTOR,
    "detector|det|detector type|detector mode|detection|detektor|detecteur|detection mode|rivelatore|検波|検波方式|検波モード|"
    "検波器|ディテクタ|ディテクター|det mode|det type|detektortyp|detektorart|type de detecteur|tipo de detector|detezione|"
    "rilevatore|tipo di rivelatore|tipo di rilevatore|deteccion|検波タイプ|検出器|検出モード|デテクタ" },
  { SP_WORD_AVERAGE_KIND,
    "average type|avg type|average mode|averaging|averaging type|averaging mode|mittelungsart|mittelung|"
    "average|avg|aver|average kind|avg mode|averaged over|mittelwert|mittelwertbildung|mittelungstyp|art der mittelung|moyenne|moyennage|"
    "mode de moyenne|type de moyennage|promedio|promediado|tipo de promediado|modo de promedio|media|modo di "
    "media|平均|平均タイプ|アベレージ|"
    "type de moyenne|tipo de promedio|tipo di media|average domain|平均方式|平均化|平均モード|平均の種類|アベレージ方式" },
  { SP_WORD_AVERAGES,
    "averages|average count|avg count|number of averages|avg number|average number|sweep count|sweeps|mittelungen|"
    "anzahl mittelungen|anzahl der mittelungen|nombre de moyennes|moyennes|numero de promedios|promedios|"
    "numero di medie|medie|平均回数|平均化回数|アベレージ回数|掃引回数|sweep number|average factor|avg factor|anzahl sweeps|"
    "nombre de balayages|numero de barridos|numero di scansioni|アベレージ数" },
  { SP_WORD_TRACE_MODE,
    "trace mode|trace type|mode|hold|messkurve|kurvenmodus|mode de trace|modo de traza|modo traccia|トレースモード|トレース種別|"
    "modus|modo|trace 1 mode|type de trace|tipo de traza|tipo traccia|ホールド|トレースタイプ" },
  { SP_WORD_SWEEP_TIME, "sweep time|sweeptime|sweep|sweepzeit|ablaufzeit|ablenkzeit|wobbelzeit|temps de balayage|duree de balayage|"
                        "tiempo de barrido|tempo di scansione|tempo di sweep|掃引時間|スイープ時間|swt|sweep zeit|sweep dauer|temps sweep|"
                        "temps de scrutation|tiempo de sweep|tiempo barrido|tempo sweep|掃引速度時間|スイープタイム" },
  { SP_WORD_POINTS,
    "points|sweep points|number of points|trace points|no of points|num points|npoints|n points|trace length|values|"
    "number of values|punkte|messpunkte|anzahl punkte|anzahl der punkte|punktzahl|anzahl messpunkte|nombre de points|"
    "puntos|numero de puntos|punti|numero di punti|測定点数|ポイント数|点数|トレース点数|掃引点数|データ数|swp pts|sweep pts|swppts|pts|"
    "sweeppunkte|sweep punkte|nombre de pts|puntos de barrido|punti di scansione|nr of points|count of points|"
    "測定ポイント数|掃引ポイント数|トレースポイント数|ポイント" },
  { SP_WORD_FREQUENCY_UNIT,
    "frequency unit|freq unit|x unit|x axis unit|x axis units|xunit|unit x|frequency units|frequenzeinheit|x einheit|"
    "unite de frequence|unidad de frecuencia|unita di frequenza|周波数単位|x units|unite x|unidad x|unita x|x軸単位" },
  { SP_WORD_LEVEL_UNIT,
    "unit|units|level unit|amplitude unit|amplitude units|power unit|y unit|y axis unit|y axis units|yunit|unit y|"
    "einheit|pegeleinheit|y einheit|unite|unite de niveau|unidad|unidad de nivel|unita|unita di livello|単位|レベル単位|"
    "振幅単位|level units|y units|unite y|unidad y|unita y|unidades|amplitudeneinheit|unite d amplitude|"
    "unidad de amplitud|unita di ampiezza|y軸単位" },
};

static const Entry columns[] = {
  { SP_WORD_FREQUENCY, "f|freq|frequency|frequencies|x|x axis|x value|frequenz|frequence|frecuencia|frequenza|hz|khz|mhz|ghz|周波数" },
  { SP_WORD_LEVEL, "level|amplitude|ampl|amp|power|mag|magnitude|y|y axis|y value|value|trace|reading|pegel|amplitud|leistung|"
                   "spannung|voltage|puissance|niveau|tension|nivel|potencia|tension|livello|ampiezza|potenza|tensione|dbm|dbmv|"
                   "dbuv|max hold|min hold|clear write|average|peak|rms|レベル|振幅|電力|電圧|強度|測定値|lvl|pwr|amplitudes|magnitude db|"
                   "amplitudine|leistungspegel|signal|valeur|valor|valore|wert|信号レベル|振幅値|パワー" },
  { SP_WORD_INDEX, "index|idx|i|n|no|nr|number|point|points|point number|sample|row|line|punkt|nummer|numero|punto|num|bin|番号|点番号|"
                   "indice|rang|点|番" },
  { SP_WORD_TIME, "time|t|timestamp|time stamp|date|zeit|uhrzeit|datum|temps|heure|tiempo|hora|tempo|ora|fecha|data|時間|時刻|日時|日付|"
                  "date time|datetime|date heure|fecha hora|data ora|datum zeit|測定時刻|測定日時" },
};

static const Entry detectors[] = {
  { SP_DETECTOR_PEAK,
    "peak|pk|pos|positive|pos peak|positive peak|peak positive|max peak|maximum peak|max|maxpeak|spitze|spitzenwert|"
    "crete|pico|pico positivo|picco|ピーク|ポジティブピーク|正ピーク|尖頭値|最大ピーク|positiv|spitze positiv|crete positive|peak pos|"
    "auto peak|autopeak|valeur crete|valor pico|valor de pico|valore di picco|picco positivo|ピーク値|正のピーク|ポジティブ" },
  { SP_DETECTOR_SAMPLE,
    "sample|samp|sampled|abtastwert|momentanwert|echantillon|echantillonnage|muestra|muestreo|campione|サンプル|サンプリング|"
    "abtast|instantane|instantaneo|サンプル値" },
  { SP_DETECTOR_RMS, "rms|power rms|effektivwert|effektiv|efficace|valeur efficace|eficaz|valor eficaz|valore efficace|実効値|"
                     "rms average|average rms|rms avg|power average rms|rms power average|rms leistung|quadratischer mittelwert|rms値" },
  { SP_DETECTOR_AVERAGE, "average|avg|aver|mean|mittelwert|moyenne|valeur moyenne|promedio|media|平均値|平均|アベレージ|mittel|moyen|medio|"
                         "promedio lineal|valore medio|valor medio|アベレージ値" },
  { SP_DETECTOR_NEGATIVE, "negative|neg|neg peak|negative peak|min peak|min|minimum|minpeak|negativ|pico negativo|picco negativo|"
                          "crete negative|ネガティブピーク|負ピーク|最小ピーク|peak neg|spitze negativ|ネガティブ|負のピーク" },
  { SP_DETECTOR_NORMAL, "normal|norm|alternating|pos neg|ノーマル|正負ピーク" },
  { SP_DETECTOR_QUASI_PEAK,
    "quasi peak|quasipeak|qp|quasispitze|quasi crete|cuasi pico|quasi picco|準尖頭値|準ピーク|quasi pic|quasi cresta|"
    "cuasipico|quasi spitze|quasi spitzenwert|qpk|qpeak|q peak|準ピーク値|準せん頭値" },
};

static const Entry averages[] = {
  { SP_AVERAGE_NONE, "none|off|no|0|aus|keine|aucune|ninguno|nessuna|なし|オフ" },
  { SP_AVERAGE_POWER,
    "power|pwr|rms|power average|leistung|puissance|potencia|potenza|電力|電力平均|power rms|rms power|pwr rms|pwr avg|rms average|rms avg|"
    "mean power|power mean|power avg|linear power|lin power|leistungsmittel|leistungsmittelung|mittlere leistung|effektivwert|effektiv|"
    "puissance moyenne|valeur efficace|efficace|potencia media|valor eficaz|eficaz|potenza media|valore efficace|実効値|パワー" },
  { SP_AVERAGE_LOG, "log|log power|logarithmic|video|log average|db|logarithmisch|logarithmique|logaritmico|対数|対数平均|log pwr|log "
                    "avg|log video|log pwr video|"
                    "log power video|video log|lg|dbm|decibel|logarithm|pegel|log mittelung|logarithmische mittelung|moyenne logarithmique|"
                    "logaritmica|promedio logaritmico|media logaritmica|ログ" },
  { SP_AVERAGE_VOLTAGE,
    "voltage|volt|lin|linear|voltage average|spannung|tension|tensione|電圧|電圧平均|線形|volts|voltage avg|voltage linear|linear "
    "voltage|lin voltage|"
    "amplitude|spannungsmittelung|lineaire|moyenne lineaire|tension lineaire|lineal|promedio lineal|lineare|media lineare|リニア" },
};

enum { MODE_MAX, MODE_MIN, MODE_WRITE, MODE_AVERAGE };
static const Entry modes[] = {
  { MODE_MAX,
    "max hold|maxhold|maximum hold|max|peak hold|maximum halten|maintien max|retencion maxima|最大値保持|最大保持|マックスホールド" },
  { MODE_MIN, "min hold|minhold|minimum hold|min|minimum halten|最小値保持|最小保持|ミニマムホールド" },
  { MODE_WRITE, "clear write|clearwrite|write|normal|live|off|none|clear|view|blank|ライト|通常|クリアライト" },
  { MODE_AVERAGE, "average|avg|averaging|aver|mittelwert|moyenne|promedio|media|平均|アベレージ" },
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
    if (!g_unichar_isalnum (c) && !g_unichar_ismark (c)) {
      gap = out->len > 0;
      continue;
    }
    if (gap)
      g_string_append_c (out, ' ');
    gap = FALSE;
    g_string_append_unichar (out, c);
  }
  g_autofree char *folded = g_string_free (out, FALSE);
  return g_utf8_normalize (folded, -1, G_NORMALIZE_NFC);
}

/* A spelling without the small words of the languages, all words for frequency alike: "bande de la resolution" -> "bande resolution",
 * "frec de inicio" -> "freq inicio". NULL where less than two parts are left: one word alone is to be written as it stands. */
static char *
essence (const char *spelling)
{
  static const char small[] = " a d l de di du da la le el il lo of the der des die del della dell do ";
  static const char frequency[] = " freq frec frequency frequence frequenz frequenza frecuencia ";
  g_auto (GStrv) parts = g_strsplit (spelling, " ", -1);
  g_autoptr (GString) text = g_string_new ("~");
  guint n = 0;

  for (char **part = parts; *part; part++) {
    g_autofree char *between = g_strconcat (" ", *part, " ", NULL);
    if (strstr (small, between))
      continue;
    g_string_append_printf (text, " %s", strstr (frequency, between) ? "freq" : *part);
    n++;
  }
  return n >= 2 ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

/* A list of entries, and its spellings (and essences, behind '~') as keys for their values plus 1; made once, kept for good. */
typedef struct {
  const Entry *entries;
  gsize n;
  GHashTable *index;
} Table;

static void
add (GHashTable *index, char *key, int value)
{
  if (!key || g_hash_table_contains (index, key))
    g_free (key);
  else
    g_hash_table_insert (index, key, GINT_TO_POINTER (value + 1));
}

static GHashTable *
index_of (Table *table)
{
  if (g_once_init_enter (&table->index)) {
    GHashTable *index = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
    for (gsize i = 0; i < table->n; i++) {
      g_auto (GStrv) spellings = g_strsplit (table->entries[i].spellings, "|", -1);
      for (char **spelling = spellings; *spelling; spelling++) {
        add (index, essence (*spelling), table->entries[i].value);
        add (index, g_strdup (*spelling), table->entries[i].value);
      }
    }
    g_once_init_leave (&table->index, index);
  }
  return table->index;
}

#define TABLE(name) static Table name##_table = { name, G_N_ELEMENTS (name), NULL }
TABLE (settings);
TABLE (columns);
TABLE (detectors);
TABLE (averages);
TABLE (modes);

static gboolean
find (Table *table, const char *folded, int *value)
{
  gpointer found = *folded ? g_hash_table_lookup (index_of (table), folded) : NULL;

  if (!found && strchr (folded, ' ')) {
    g_autofree char *core = essence (folded);
    found = core ? g_hash_table_lookup (index_of (table), core) : NULL;
  }
  if (found)
    *value = GPOINTER_TO_INT (found) - 1;
  return found != NULL;
}

#define FIND(list, folded, value) find (&list##_table, folded, value)

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

/* The one word is the detector, the others say of what: "average log", "log power average". */
gboolean
sp_words_detector_average (const char *folded, SpDetector *detector, SpAverage *kind)
{
  const char *first = strchr (folded, ' '), *last = strrchr (folded, ' ');
  if (!first)
    return FALSE;
  g_autofree char *head = g_strndup (folded, (gsize) (first - folded)), *front = g_strndup (folded, (gsize) (last - folded));
  if (sp_words_detector (head, detector) && *detector == SP_DETECTOR_AVERAGE)
    return sp_words_average (first + 1, kind);
  return sp_words_detector (last + 1, detector) && *detector == SP_DETECTOR_AVERAGE && sp_words_average (front, kind);
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
