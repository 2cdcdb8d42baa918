"""Unit factors from an independent library, for tests/reference/units.rs.

usage: python units.py          writes ../data/units_pint.csv
       python units.py --check  compares with it and exits 1 on a difference
Needs the packages of requirements.txt in a virtual environment.
"""
import csv
import io
import pathlib
import sys

import pint

ureg = pint.UnitRegistry()
TARGET = pathlib.Path(__file__).parent.parent / "data" / "units_pint.csv"
# Our unit, pint's words for it, the SI unit. A `kg` on a drawing is a weight: times standard gravity.
UNITS = [
    ("in", "inch", "m"), ("ft", "foot", "m"), ("mm", "millimeter", "m"), ("cm", "centimeter", "m"), ("m", "meter", "m"),
    ("in2", "inch**2", "m**2"), ("ft2", "foot**2", "m**2"), ("mm2", "millimeter**2", "m**2"), ("m2", "meter**2", "m**2"),
    ("lb", "lbf", "N"), ("kip", "kip", "N"), ("N", "newton", "N"), ("kN", "kilonewton", "N"),
    ("kg", "kilogram*standard_gravity", "N"),
    ("psf", "lbf/foot**2", "Pa"), ("psi", "psi", "Pa"), ("ksi", "ksi", "Pa"), ("Pa", "pascal", "Pa"),
    ("kPa", "kilopascal", "Pa"), ("MPa", "megapascal", "Pa"),
    ("lb/ft", "lbf/foot", "N/m"), ("N/m", "newton/meter", "N/m"), ("kN/m", "kilonewton/meter", "N/m"),
    ("kg/m", "kilogram*standard_gravity/meter", "N/m"),
    ("psf/ft", "lbf/foot**3", "N/m**3"), ("kPa/m", "kilopascal/meter", "N/m**3"),
    ("mph", "mile/hour", "m/s"), ("ft/s", "foot/second", "m/s"), ("in/s", "inch/second", "m/s"),
    ("ft/min", "foot/minute", "m/s"), ("m/s", "meter/second", "m/s"), ("mm/s", "millimeter/second", "m/s"),
    ("km/h", "kilometer/hour", "m/s"),
    ("ft/s2", "foot/second**2", "m/s**2"), ("m/s2", "meter/second**2", "m/s**2"),
    ("ms", "millisecond", "s"), ("s", "second", "s"), ("min", "minute", "s"), ("months", "month", "s"),
    ("years", "year", "s"),
    ("lb-ft", "lbf*foot", "N*m"), ("kip-ft", "kip*foot", "N*m"), ("lb-in", "lbf*inch", "N*m"), ("N-m", "newton*meter", "N*m"),
    ("kN-m", "kilonewton*meter", "N*m"), ("J", "joule", "N*m"),
    ("in3", "inch**3", "m**3"), ("yd3", "yard**3", "m**3"), ("mm3", "millimeter**3", "m**3"), ("cm3", "centimeter**3", "m**3"),
    ("m3", "meter**3", "m**3"),
    ("in4", "inch**4", "m**4"), ("mm4", "millimeter**4", "m**4"), ("cm4", "centimeter**4", "m**4"),
    ("deg", "degree", "radian"), ("%", "percent", "dimensionless"),
]


def table():
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\n")
    rows.writerow(["unit", "factor", "si"])
    for name, words, si in UNITS:
        rows.writerow([name, repr(float((1 * ureg.parse_expression(words)).to(si).magnitude)), si])
    return out.getvalue()


if __name__ == "__main__":
    found = table()
    if "--check" in sys.argv:
        if found != TARGET.read_text():
            print("units_pint.csv is not what pint", pint.__version__, "gives", file=sys.stderr)
            sys.exit(1)
        print(len(UNITS), "unit factors agree with pint", pint.__version__)
    else:
        TARGET.write_text(found)
