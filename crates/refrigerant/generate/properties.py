"""Makes src/state_table.rs and tests/data/coolprop_states.csv; run it by `cargo xtask generate`.

    properties.py write    write both files
    properties.py check    compare the committed files with fresh ones, and the committed Rust with
                           the reference at random states

What the plant model needs beyond saturation: saturated liquid against temperature, and vapour
against pressure and superheat. Energy and entropy are counted from the liquid at 0 °C, where they
are 200 kJ/kg and 1 kJ/(kg K): the convention of the International Institute of Refrigeration.
"""

import sys

import numpy as np
from numpy.polynomial import Chebyshev
from numpy.polynomial.chebyshev import chebpts1, chebvander

from common import (
    CRATE,
    RANDOM_POINTS,
    ask_rust,
    finish,
    random_generator,
    rust_name,
    rust_rows,
    rust_series,
    stale,
    versions,
)
from reference import REFRIGERANTS, Phase, described, fahrenheit, kelvin
from saturation import Line

TABLE = CRATE / "src" / "state_table.rs"
FILED = CRATE / "tests" / "data" / "coolprop_states.csv"

# States are tabled from here to 155 °F of saturation, or this much under the end of the lines, K:
# nearer to the critical point heat capacity has no bound.
LOWEST_F, HIGHEST_F, ROOM = -60.0, 155.0, 4.0
# The fits reach this much further at both ends, K, so that nothing is extrapolated.
MARGIN = 0.1
# Vapour reaches from saturation to this superheat, K: the discharge of a hard-driven compressor.
MOST_SUPERHEAT = 100.0
# The expansion in superheat is in ln(1 + superheat / this), K: heat capacity changes fastest close
# to saturation.
SCALE = 10.0
# Coefficients: in superheat, in ln p; and along the saturated liquid.
ROWS, COLUMNS, LIQUID_COLUMNS = 9, 15, 16
QUANTITIES = ("density", "enthalpy", "entropy", "heat capacity")
# What is asked for, per cent: of a value, and of a difference of enthalpy.
MOST_PERCENT, MOST_DIFFERENCE_PERCENT = 0.5, 1.0
# Heat capacity is the slope of the fit; it is held to MOST_PERCENT up to this saturation
# temperature, and only reported above.
HEAT_CAPACITY_F = 120.0
# A rise of enthalpy over less superheat than this, K, is not compared: it is all rounding.
LEAST_RISE = 3.0
# Coefficients of the vapour are kept in single precision.
SAME_COEFFICIENT = 1e-6
FILED_LIQUIDS, FILED_VAPOURS = 12, 36


class States:
    """Reference states of one refrigerant, and the expansions fitted to them."""

    def __init__(self, name):
        self.name = name
        self.dew, self.bubble = Line(name, "dew"), Line(name, "bubble")
        highest = min(self.dew.highest, self.bubble.highest) - ROOM
        self.lowest_f = LOWEST_F
        self.highest_f = float(np.floor(min(HIGHEST_F, fahrenheit(highest)) + 1e-9))
        self.lowest, self.highest = kelvin(self.lowest_f), kelvin(self.highest_f)
        ends = [self.lowest - MARGIN, self.highest + MARGIN]
        self.vapour = Phase(self.dew.curve, *ends)
        self.liquid = Phase(self.bubble.curve, *ends)
        self.zero = np.zeros(4)
        self.zero = self.liquid_at(273.15) - [0.0, 200e3, 1e3, 0.0]
        self.zero[[0, 3]] = 0.0
        self.liquid_series = self._fit_liquid(ends)
        self.ln_p = [float(np.log(self.dew.curve.pressure(t))) for t in ends]
        self.vapour_tables = self._fit_vapour()

    def liquid_at(self, temperature):
        """Density, enthalpy, entropy, heat capacity; kg, m, J, K."""
        return self.liquid.saturated(temperature) - self.zero

    def vapour_at(self, pressure, superheat):
        dew = float(self.dew.t(np.log(pressure)))  # within 1e-5 K of the reference's
        return self.vapour.superheated(pressure, dew, superheat) - self.zero

    def _fit_liquid(self, ends):
        middle, half = sum(ends) / 2.0, (ends[1] - ends[0]) / 2.0
        nodes = chebpts1(LIQUID_COLUMNS)
        values = np.array([self.liquid_at(middle + half * u) for u in nodes])
        basis = np.linalg.inv(chebvander(nodes, LIQUID_COLUMNS - 1))
        return [Chebyshev(basis @ values[:, i], domain=ends) for i in range(4)]

    def _fit_vapour(self):
        middle, half = sum(self.ln_p) / 2.0, (self.ln_p[1] - self.ln_p[0]) / 2.0
        across, along = chebpts1(ROWS), chebpts1(COLUMNS)
        grid = np.array(
            [[self.vapour_at(np.exp(middle + half * u), superheat_of(v)) for u in along]
             for v in across]
        )
        grid[:, :, 0] = np.log(grid[:, :, 0])
        left = np.linalg.inv(chebvander(across, ROWS - 1))
        right = np.linalg.inv(chebvander(along, COLUMNS - 1)).T
        return [(left @ grid[:, :, i] @ right).astype(np.float32) for i in range(3)]

    def random_liquids(self):
        generator = random_generator(self.name, "liquid")
        return generator.uniform(self.lowest, self.highest, RANDOM_POINTS)

    def random_vapours(self, low=LOWEST_F, high=HIGHEST_F, most_superheat=MOST_SUPERHEAT):
        """Pressures, superheats; dew temperatures between two limits in °F."""
        generator = random_generator(self.name, "vapour", str(high))
        limits = max(kelvin(low), self.lowest), min(kelvin(high), self.highest)
        temperatures = generator.uniform(*limits, RANDOM_POINTS)
        superheats = generator.uniform(0.0, most_superheat, RANDOM_POINTS)
        pressures = np.exp(self.dew.ln_p(temperatures))
        return list(zip(map(float, pressures), map(float, superheats)))

    def compressed(self, suction, superheat, discharge):
        """Enthalpy at the discharge pressure and the entropy of the suction."""
        entropy = self.vapour_at(suction, superheat)[2]
        dew = float(self.dew.t(np.log(discharge)))
        beyond = 20.0
        for _ in range(60):
            _, enthalpy, reached, heat_capacity = self.vapour_at(discharge, beyond)
            step = (reached - entropy) * (dew + beyond) / heat_capacity
            beyond = min(max(beyond - step, 0.0), MOST_SUPERHEAT)
            if abs(step) < 1e-9:
                return enthalpy
        return None  # wet, or hotter than the table


def superheat_of(v):
    """K, of the second variable of the vapour expansion, -1 to 1."""
    return SCALE * np.expm1((v + 1.0) / 2.0 * np.log1p(MOST_SUPERHEAT / SCALE))


# --- what is written -------------------------------------------------------------------------


def rust_table(table):
    rows = "".join(
        f"            [\n{rust_rows(list(map(np.format_float_scientific, row)), 16, 6)}            ],\n"
        for row in table
    )
    return f"[\n{rows}        ]"


def rust_states(states):
    liquid = "".join(
        f"    {field}: {rust_series(series)},\n"
        for field, series in zip(
            ("liquid_density", "liquid_enthalpy", "liquid_entropy", "liquid_heat_capacity"),
            states.liquid_series,
        )
    )
    vapour = "".join(
        f"        {field}: {rust_table(table)},\n"
        for field, table in zip(("ln_density", "enthalpy", "entropy"), states.vapour_tables)
    )
    return f"""
// {described(states.name)}; {states.lowest_f:.0f} to {states.highest_f:.0f} °F.
pub(crate) static {rust_name(states.name)}: StateTable = StateTable {{
    lowest_kelvin: {float(states.lowest)!r},
    highest_kelvin: {float(states.highest)!r},
{liquid}    vapour: VapourTable {{
        low_ln_pascal: {states.ln_p[0]!r},
        high_ln_pascal: {states.ln_p[1]!r},
{vapour}    }},
}};
"""


def table(all_states):
    return f"""// Made by `cargo xtask generate`; do not edit. Check with `cargo xtask generate --check`.
//
//! Chebyshev expansions of saturated liquid and of vapour.
//!
//! Source: {versions()}; see generate/properties.py. The check states the errors.

use crate::chebyshev::Chebyshev;
use crate::state::{{StateTable, VapourTable}};

/// Most superheat in the tables, K.
pub(crate) const MOST_SUPERHEAT: f64 = {MOST_SUPERHEAT!r};
/// Scale of the logarithm of superheat, K.
pub(crate) const SCALE: f64 = {SCALE!r};
/// Coefficients in superheat.
pub(crate) const ROWS: usize = {ROWS};
/// Coefficients in ln p.
pub(crate) const COLUMNS: usize = {COLUMNS};
""" + "".join(map(rust_states, all_states))


def filed(all_states):
    rows = [
        "# States of the reference: saturated liquid, and vapour by superheat.",
        f"# source: {versions()}; generate/properties.py",
        "# made by: cargo xtask generate",
        "# confidence: computed; the same reference as the table, so a check of the fit and of the",
        "# Rust, not of the equation of state",
        "# zero: saturated liquid at 0 C has 200 kJ/kg and 1 kJ/(kg K)",
        "refrigerant,phase,T_K,p_Pa,superheat_K,rho_kg_m3,h_J_kg,s_J_kg_K,cp_J_kg_K",
    ]
    for states in all_states:
        for t in states.random_liquids()[:FILED_LIQUIDS]:
            values = ",".join(f"{x:.7e}" for x in states.liquid_at(t))
            rows.append(f"{states.name},liquid,{t:.9f},,,{values}")
        for p, superheat in states.random_vapours()[:FILED_VAPOURS]:
            values = ",".join(f"{x:.7e}" for x in states.vapour_at(p, superheat))
            rows.append(f"{states.name},vapour,,{p:.9e},{superheat:.6f},{values}")
    return "\n".join(rows) + "\n"


# --- what is checked -------------------------------------------------------------------------


def percent(answers, truth):
    """Largest error of each column, in per cent of the true value."""
    return np.abs(np.array(answers) / np.array(truth) - 1.0).max(axis=0) * 100.0


def check_liquid(states):
    at = states.random_liquids()
    answers = ask_rust("states", [f"{states.name} liquid {float(t)!r}" for t in at])
    return percent(answers, [states.liquid_at(t) for t in at])


def check_vapour(states):
    """Errors over the whole table; of heat capacity where it is held; of rises of enthalpy."""
    worst = np.zeros(4)
    held, rises = 0.0, 0.0
    for high in (HEAT_CAPACITY_F, HIGHEST_F):
        at = states.random_vapours(high=high)
        dry = [(p, 0.0) for p, _ in at]
        asked = [f"{states.name} vapour {float(p)!r} {s!r}" for p, s in at + dry]
        answers = np.array(ask_rust("states", asked))
        truth = np.array([states.vapour_at(p, s) for p, s in at + dry])
        worst = np.maximum(worst, percent(answers, truth))
        if high == HEAT_CAPACITY_F:
            held = percent(answers, truth)[3]
        half = len(at)
        rise = [x[:half, 1] - x[half:, 1] for x in (answers, truth)]
        compared = np.array([s for _, s in at]) >= LEAST_RISE
        rises = max(rises, percent(rise[0][compared], rise[1][compared]))
    return worst, held, rises


def check_latent(states):
    """Enthalpy given up from dry vapour to liquid at the bubble point of the same pressure."""
    pressures = np.exp(states.dew.ln_p(states.random_liquids()[:200]))
    # Both at a pressure that the table of the liquid knows.
    pairs = [(p, float(states.bubble.t(np.log(p)))) for p in pressures]
    pairs = [(p, t) for p, t in pairs if states.lowest <= t <= states.highest]
    dry = ask_rust("states", [f"{states.name} vapour {float(p)!r} 0.0" for p, _ in pairs])
    wet = ask_rust("states", [f"{states.name} liquid {t!r}" for _, t in pairs])
    truth = [states.vapour_at(p, 0.0)[1] - states.liquid_at(t)[1] for p, t in pairs]
    return percent(np.array(dry)[:, 1] - np.array(wet)[:, 1], truth)


def check_work(states):
    """Work of a compression without loss, from a working suction to a working head."""
    low = states.random_vapours(-40.0, 60.0, 20.0)
    high = states.random_vapours(80.0, 150.0)
    asked, truth = [], []
    for (suction, superheat), (discharge, _) in list(zip(low, high))[:200]:
        reached = states.compressed(suction, superheat, discharge)
        if reached is not None:
            asked.append(f"{states.name} compressed {float(suction)!r} {superheat!r} "
                         f"{float(discharge)!r}")
            truth.append(reached - states.vapour_at(suction, superheat)[1])
    return percent(np.array(ask_rust("states", asked))[:, 0], truth), len(asked)


def check(all_states):
    failed = stale([(TABLE, table(all_states)), (FILED, filed(all_states))], SAME_COEFFICIENT)
    print(f"Largest errors of the Rust, %, from {LOWEST_F:.0f} °F of saturation to 'highest' and, "
          f"for vapour, to {MOST_SUPERHEAT:.0f} K of superheat.\n"
          f"cp* up to {HEAT_CAPACITY_F:.0f} °F, cp whole table; rise: enthalpy over superheat of "
          f"{LEAST_RISE:.0f} K or more; work: without loss")
    print("refrigerant highest | liquid rho    h      s     cp | "
          "vapour rho    h      s     cp*    cp | rise  latent  work")
    for states in all_states:
        liquid = check_liquid(states)
        vapour, held, rise = check_vapour(states)
        latent = check_latent(states)
        work, count = check_work(states)
        print(f"{states.name:11} {states.highest_f:7.0f} | "
              f"      {' '.join(f'{x:6.4f}' for x in liquid)} |       "
              f"{' '.join(f'{x:6.4f}' for x in vapour[:3])} {held:6.4f} {vapour[3]:6.2f} | "
              f"{rise:5.3f} {latent:6.4f} {work:6.4f} of {count}")
        for what, error, most in (
            *((f"liquid {q}", e, MOST_PERCENT) for q, e in zip(QUANTITIES, liquid)),
            *((f"vapour {q}", e, MOST_PERCENT) for q, e in zip(QUANTITIES[:3], vapour)),
            ("vapour heat capacity", held, MOST_PERCENT),
            ("rise of enthalpy", rise, MOST_DIFFERENCE_PERCENT),
            ("latent heat", latent, MOST_DIFFERENCE_PERCENT),
            ("work of compression", work, MOST_DIFFERENCE_PERCENT),
        ):
            if not error <= most:
                failed.append(f"{states.name} {what}: {error:.3f} %, asked {most} %")
    finish(failed, "states: as committed, and within the accuracy asked for")


def main():
    if len(sys.argv) != 2 or sys.argv[1] not in ("write", "check"):
        sys.exit(__doc__)
    all_states = [States(name) for name in REFRIGERANTS]
    if sys.argv[1] == "check":
        check(all_states)
        return
    TABLE.write_text(table(all_states))
    FILED.write_text(filed(all_states))
    print(f"wrote {TABLE.name} and {FILED.name}")


if __name__ == "__main__":
    main()
