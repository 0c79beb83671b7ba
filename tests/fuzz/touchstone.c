/* touchstone.c - any bytes as a Touchstone file */
#include "core/network/network.h"
#include "core/network/one-port.h"
#include "tests/fuzz/fuzz.h"

#include <math.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SpTwoPort) two_port = sp_two_port_parse ((const char *) data, size, "file", &error);

  g_autoptr (GError) why = NULL;
  g_autoptr (SpOnePort) one_port = sp_one_port_parse ((const char *) data, size, "file", &why);
  FUZZ_MUST_SAY (one_port, why);
  if (one_port) {
    g_autoptr (SpCurve) vswr = sp_one_port_vswr (one_port, NULL);
    FUZZ_MUST (!vswr || (vswr->value[0] >= 1 && vswr->value[vswr->n - 1] <= 1e6));
  }
  FUZZ_MUST_SAY (two_port, error);
  if (!two_port)
    return 0;
  FUZZ_MUST (two_port->n >= 1);
  for (guint i = 0; i < two_port->n; i++) {
    complex double s[4];
    gboolean inside = FALSE;
    FUZZ_MUST (isfinite (two_port->frequency_hz[i]) && (i == 0 || two_port->frequency_hz[i] > two_port->frequency_hz[i - 1]));
    sp_two_port_at (two_port, two_port->frequency_hz[i], s, &inside);
    FUZZ_MUST (inside && creal (s[SP_S21]) == creal (two_port->s21[i]) && cimag (s[SP_S21]) == cimag (two_port->s21[i]));
  }
  return 0;
}
