#!/usr/bin/env python3
"""Writes powers.inc: the powers of ten that sp_decimal_nearest multiplies by, to 128 binary digits, rounded down.

make-powers.py [--check]: with --check it compares instead, and ends with 1 where the file differs.
"""
import os
import sys

LEAST, GREATEST = -60, 40
PATH = os.path.join(os.path.dirname(os.path.abspath(__file__)), "powers.inc")


def leading(exponent):
    """The first 128 binary digits of 10**exponent: those of 5**exponent."""
    if exponent >= 0:
        power = 5 ** exponent
        shift = 128 - power.bit_length()
        return power << shift if shift >= 0 else power >> -shift
    power = 5 ** -exponent
    return (1 << (127 + power.bit_length())) // power


lines = ["/* Written by make-powers.py: the first 64 and the next 64 binary digits of 10^e, rounded down. */",
         "#define LEAST (%d)" % LEAST, "#define GREATEST %d" % GREATEST, "static const guint64 powers[GREATEST - LEAST + 1][2] = {"]
for e in range(LEAST, GREATEST + 1):
    digits = leading(e)
    assert digits.bit_length() == 128
    lines.append("  { G_GUINT64_CONSTANT (0x%016x), G_GUINT64_CONSTANT (0x%016x) }, /* 1e%d */" % (digits >> 64, digits & (1 << 64) - 1, e))
text = "\n".join(lines + ["};", ""])
if "--check" in sys.argv[1:]:
    sys.exit(0 if open(PATH, encoding="utf-8").read() == text else "powers.inc is not what make-powers.py writes")
with open(PATH, "w", encoding="utf-8") as out:
    out.write(text)
