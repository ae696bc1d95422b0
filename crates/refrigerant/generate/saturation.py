"""Makes src/table.rs and tests/data/coolprop_points.csv; run it by `cargo xtask generate`.

    saturation.py write    write both files
    saturation.py check    compare the committed files with fresh ones, and the committed Rust with
                           the reference at 1,000 random points for each line

Each saturation line becomes two Chebyshev expansions: ln p against T and T against ln p. The
reference (reference.py) is asked at the Chebyshev nodes only; the errors stated in the output are
measured at random points between them, first by numpy (write), then by the Rust itself (check).
"""

import sys

import numpy as np
from numpy.polynomial import Chebyshev

from common import (
    CRATE,
    RANDOM_POINTS,
    ask_rust,
    finish,
    random_generator,
    rust_name,
    rust_series,
    stale,
    versions,
)
from reference import (
    LINES,
    REFRIGERANTS,
    MixtureCurve,
    described,
    fahrenheit,
    kelvin,
    saturation_curve,
)

TABLE = CRATE / "src" / "table.rs"
POINTS = CRATE / "tests" / "data" / "coolprop_points.csv"

# The table reaches from here (every refrigerant is then below 10 psia, so that a gauge near zero
# on a mountain is still inside) to 180 °F, or to the last whole degree before the reference ends.
LOWEST_F, HIGHEST_F = -80.0, 180.0
# The fits begin this much colder, K, so that rounding at the edge asks for no extrapolation.
MARGIN = 0.5
# The accuracy asked for reaches to here, or to 10 °F under the end of the reference.
ASKED_F = (-50.0, 150.0)
# Most coefficients, and the size of the last three at which an expansion is long enough.
MOST_COEFFICIENTS = 48
# Degree of the series that stands for the reference while it is inverted.
EXACT_DEGREE = 100
SMALL_LN_P, SMALL_T = 3e-8, 3e-6
# What is asked for, at every random point, in both directions.
MOST_ERROR_F, MOST_ERROR_PERCENT = 0.02, 0.02
# A coefficient may differ this much between machines: far under the smallest error stated.
SAME_COEFFICIENT = 1e-8
FILED_POINTS = 41


class Line:
    """One saturation line: its reference curve, its two expansions and their limits."""

    def __init__(self, name, line):
        self.name, self.line = name, line
        cold = kelvin(LOWEST_F) - MARGIN
        self.curve = saturation_curve(name, line, cold, kelvin(HIGHEST_F))
        hot = self.curve.highest
        # The small addition keeps 180 °F, written in kelvin and back, from becoming 179.
        self.lowest_f, self.highest_f = LOWEST_F, float(np.floor(fahrenheit(hot) + 1e-9))
        self.lowest, self.highest = kelvin(self.lowest_f), kelvin(self.highest_f)
        exact = Chebyshev.interpolate(self.ln_pressures, EXACT_DEGREE, domain=[cold, hot])
        self.ln_p = expansion(exact, cold, hot, SMALL_LN_P)
        edge = self.ln_pressures([cold, hot])
        self.t = expansion(lambda ln_p: invert(exact, ln_p), *map(float, edge), SMALL_T)
        self.p_lowest = self.curve.pressure(self.lowest)
        self.p_highest = self.curve.pressure(min(self.highest, hot))

    def ln_pressures(self, temperatures):
        return np.log([self.curve.pressure(t) for t in temperatures])

    def states(self, temperatures):
        return [(t, self.curve.pressure(t)) for t in temperatures]

    def random_states(self):
        generator = random_generator(self.name, self.line)
        return self.states(generator.uniform(self.lowest, self.highest, RANDOM_POINTS))


def expansion(function, low, high, small):
    """The shortest interpolation at Chebyshev nodes whose last three coefficients are small."""
    for degree in range(8, MOST_COEFFICIENTS):
        series = Chebyshev.interpolate(function, degree, domain=[low, high])
        if np.abs(series.coef[-3:]).max() < small:
            break
    return series


def invert(ln_p_of_t, ln_p):
    """Temperatures of many pressures, by Newton's method on the exact series."""
    low, high = ln_p_of_t.domain
    slope = ln_p_of_t.deriv()
    temperature = np.full(len(ln_p), (low + high) / 2.0)
    for _ in range(60):
        step = (ln_p_of_t(temperature) - ln_p) / slope(temperature)
        temperature = np.clip(temperature - step, low, high)
        if np.abs(step).max() < 1e-9:
            return temperature
    raise ArithmeticError("no temperature found for a pressure")


def worst(states, temperatures, pressures):
    """Largest error: in °F of temperature, in per cent of pressure."""
    t, p = np.array(states).T
    return (
        float(np.abs(np.array(temperatures) - t).max() * 1.8),
        float(np.abs(np.array(pressures) / p - 1.0).max() * 100.0),
    )


# --- what is written -------------------------------------------------------------------------


def rust_line(line, error):
    name = rust_name(line.name)
    comment = (
        f"// {described(line.name)}.\n"
        f"// {line.lowest_f:.0f} to {line.highest_f:.0f} °F; at {RANDOM_POINTS} random points at "
        f"most {error[0]:.1e} °F and {error[1]:.1e} % from the reference."
    )
    if line.line == "dew" and REFRIGERANTS[line.name][0] == "pure":
        return f"""
// A pure fluid has one line.
pub(crate) static {name}_DEW: SaturationLine =
    SaturationLine {{ line: Line::Dew, ..{name}_BUBBLE }};
"""
    return f"""
{comment}
pub(crate) static {name}_{line.line.upper()}: SaturationLine = SaturationLine {{
    refrigerant: Refrigerant::{line.name.replace("-", "")},
    line: Line::{line.line.capitalize()},
    lowest_kelvin: {float(line.lowest)!r},
    highest_kelvin: {float(line.highest)!r},
    lowest_pascal: {float(line.p_lowest)!r},
    highest_pascal: {float(line.p_highest)!r},
    ln_pascal_of_kelvin: {rust_series(line.ln_p)},
    kelvin_of_ln_pascal: {rust_series(line.t)},
}};
"""


def table(lines):
    errors = [
        worst(s := line.random_states(), line.t(np.log([p for _, p in s])),
              np.exp(line.ln_p(np.array([t for t, _ in s]))))
        for line in lines
    ]
    largest = [max(e[i] for e in errors) for i in (0, 1)]
    return (
        f"""// Made by `cargo xtask generate`; do not edit. Check with `cargo xtask generate --check`.
//
//! Chebyshev expansions of the saturation lines.
//!
//! Source: {versions()}; see generate/reference.py.
//! Largest error at {RANDOM_POINTS} random points of each line: {largest[0]:.1e} °F and {largest[1]:.1e} %.

use crate::chebyshev::Chebyshev;
use crate::line::{{Line, SaturationLine}};
use crate::Refrigerant;
"""
        + "".join(map(rust_line, lines, errors))
    )


def points(lines):
    rows = [
        "# Saturation states of the reference, between the nodes of the expansions.",
        f"# source: {versions()}; generate/reference.py",
        "# made by: cargo xtask generate",
        "# confidence: computed; the same reference as the table, so a check of the fit and of the",
        "# Rust, not of the equation of state",
        "refrigerant,line,T_K,p_Pa",
    ]
    for line in lines:
        for t, p in line.states(np.linspace(line.lowest, min(line.highest, line.curve.highest),
                                            FILED_POINTS)):
            rows.append(f"{line.name},{line.line},{t:.9f},{p:.9e}")
    return "\n".join(rows) + "\n"


# --- what is checked -------------------------------------------------------------------------


def rust_answers(lines, states):
    """What the committed Rust makes of every state: a temperature and a pressure for each."""
    asked = [
        f"{line.name} {line.line} {what} {value!r}"
        for line, of_line in zip(lines, states)
        for t, p in of_line
        for what, value in (("P", float(p)), ("T", float(t)))
    ]
    answers = iter(ask_rust("saturation", asked))
    return [[(next(answers)[0], next(answers)[0]) for _ in of_line] for of_line in states]


def report_flash(line):
    """How far our solution of a mixture is from CoolProp's flash, where that answers."""
    compared, largest, failed = 0, 0.0, []
    for f in np.arange(line.lowest_f, line.highest_f + 1.0, 2.0):
        try:
            flash = line.curve.flash_pressure(kelvin(f))
        except ValueError:
            failed.append(f"{f:.0f}")
            continue
        compared += 1
        largest = max(largest, abs(line.curve.pressure(kelvin(f)) / flash - 1.0))
    print(f"{line.name:9} {line.line:7} {largest * 100:.1e} % at {compared} temperatures; "
          f"the flash fails at {', '.join(failed) or 'none'} °F")
    return largest < 1e-8


def report_pseudo_pure(line):
    """How far a pseudo-pure equation is from the mixture model: printed, and bounded."""
    model = MixtureCurve(REFRIGERANTS[line.name][1], line.line, kelvin(-60.0), kelvin(150.0))
    apart = []
    for f in np.arange(-60.0, min(140.0, fahrenheit(model.highest)), 5.0):
        pressure = model.pressure(kelvin(f))
        if line.p_lowest <= pressure <= line.p_highest:
            apart.append((abs(line.t(np.log(pressure)) - kelvin(f)) * 1.8, f))
    print(f"{line.name:9} {line.line:7} at most {max(apart)[0]:.3f} °F apart, at "
          f"{max(apart)[1]:.0f} °F, of {len(apart)} temperatures from {apart[0][1]:.0f} "
          f"to {apart[-1][1]:.0f} °F")


def check(lines):
    failed = stale([(TABLE, table(lines)), (POINTS, points(lines))], SAME_COEFFICIENT)
    print("The Rust against the reference, whole table (asked: at most "
          f"{MOST_ERROR_F} °F and {MOST_ERROR_PERCENT} % from {ASKED_F[0]:.0f} °F to the 'asked' "
          "limit)")
    print("refrigerant line    lowest highest asked | worst °F  worst %")
    states = [line.random_states() for line in lines]
    for line, of_line, answers in zip(lines, states, rust_answers(lines, states)):
        error = worst(of_line, *zip(*answers))
        asked = min(ASKED_F[1], fahrenheit(line.curve.highest) - 10.0)
        print(f"{line.name:11} {line.line:7} {line.lowest_f:6.0f} {line.highest_f:7.0f} "
              f"{asked:5.0f} | {error[0]:.1e}   {error[1]:.1e}")
        if not (error[0] <= MOST_ERROR_F and error[1] <= MOST_ERROR_PERCENT):
            failed.append(f"{line.name} {line.line}: {error[0]:.1e} °F, {error[1]:.1e} %")

    print("Mixtures: our equilibrium against CoolProp's own flash")
    for line in lines:
        if REFRIGERANTS[line.name][0] == "mixture" and not report_flash(line):
            failed.append(f"{line.name} {line.line}: the equilibrium is not CoolProp's")
    print("Pseudo-pure equations against CoolProp's mixture model (for information)")
    for line in lines:
        if REFRIGERANTS[line.name][0] == "pseudo-pure":
            report_pseudo_pure(line)
    finish(failed, "saturation: as committed, and within the accuracy asked for")


def main():
    if len(sys.argv) != 2 or sys.argv[1] not in ("write", "check"):
        sys.exit(__doc__)
    lines = [Line(name, line) for name in REFRIGERANTS for line in LINES]
    if sys.argv[1] == "check":
        check(lines)
        return
    TABLE.write_text(table(lines))
    POINTS.parent.mkdir(parents=True, exist_ok=True)
    POINTS.write_text(points(lines))
    print(f"wrote {TABLE.name} and {POINTS.name}")


if __name__ == "__main__":
    main()
