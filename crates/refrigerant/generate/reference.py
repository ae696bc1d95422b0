"""The reference: saturation states from CoolProp, one way of asking for every refrigerant.

Start at `REFRIGERANTS` and `saturation_curve`.

Pure fluids use their Helmholtz equation of state. R-410A, R-407C, R-404A and R-507A use the
published pseudo-pure equations. The other blends use CoolProp's predefined mixtures. CoolProp's
own flash of a mixture fails in patches below the critical point, so the two conditions of
equilibrium (equal fugacity of every component, equal pressure) are solved here by Newton's method
on CoolProp's mixture Helmholtz energy, each temperature starting from its colder neighbour.
`saturation.py` compares the result with CoolProp's flash wherever that flash answers.

Kelvin, pascal, mol/m3 throughout.
"""

import CoolProp
import numpy as np
from CoolProp import AbstractState
from numpy.polynomial import Chebyshev

# Our name: (kind, CoolProp's name, molar composition is CoolProp's for `mixture`).
REFRIGERANTS = {
    "R-22": ("pure", "R22"),
    "R-134a": ("pure", "R134a"),
    "R-32": ("pure", "R32"),
    "R-410A": ("pseudo-pure", "R410A"),
    "R-407C": ("pseudo-pure", "R407C"),
    "R-404A": ("pseudo-pure", "R404A"),
    "R-507A": ("pseudo-pure", "R507A"),
    "R-290": ("pure", "R290"),
    "R-1234yf": ("pure", "R1234yf"),
    "R-454B": ("mixture", "R454B"),
    "R-448A": ("mixture", "R448A"),
    "R-449A": ("mixture", "R449A"),
    "R-421A": ("mixture", "R421A"),
    "R-422D": ("mixture", "R422D"),
    "R-427A": ("mixture", "R427A"),
}
LINES = {"bubble": 0.0, "dew": 1.0}

# A mixture's curve ends where liquid is only this many times as dense as vapour: nearer to the
# critical point the two roots fall together, and past the highest temperature of the dew line
# there are two pressures for one temperature.
LEAST_DENSITY_RATIO = 2.0
# Room left under the critical temperature of a pure or pseudo-pure fluid, K.
CRITICAL_ROOM = 1.0
# Newton: largest residual accepted (relative in fugacity and pressure), and steps allowed.
NEWTON_RESIDUAL = 1e-10
NEWTON_STEPS = 20
# Continuation along a mixture's curve: first and smallest temperature step, K.
FIRST_STEP = 1.0
LEAST_STEP = 0.01


class NotConverged(Exception):
    """The equilibrium was not found at this temperature."""


def kelvin(fahrenheit):
    return (fahrenheit + 459.67) / 1.8


def fahrenheit(kelvin_):
    return kelvin_ * 1.8 - 459.67


class FluidCurve:
    """One saturation line of a pure or pseudo-pure fluid."""

    def __init__(self, coolprop_name, line):
        self.quality = LINES[line]
        self.state = AbstractState("HEOS", coolprop_name)
        self.highest = self.state.T_critical() - CRITICAL_ROOM

    def pressure(self, temperature):
        self.state.update(CoolProp.QT_INPUTS, self.quality, temperature)
        return self.state.p()

    def density(self, temperature):
        self.state.update(CoolProp.QT_INPUTS, self.quality, temperature)
        return self.state.rhomolar()

    def one_phase(self):
        return AbstractState("HEOS", self.state.fluid_names()[0])


class MixtureCurve:
    """One saturation line of a mixture, traced from cold to hot and then asked anywhere between.

    The unknowns are the logarithms of: the mole fractions of the phase that is about to appear,
    the density of the liquid, the density of the vapour.
    """

    def __init__(self, coolprop_name, line, lowest, highest):
        self.quality = LINES[line]
        self.flash = AbstractState("HEOS", coolprop_name + ".mix")
        self.feed = np.array(self.flash.get_mole_fractions())
        components = "&".join(self.flash.fluid_names())
        self.liquid = AbstractState("HEOS", components)
        self.liquid.specify_phase(CoolProp.iphase_liquid)
        self.vapour = AbstractState("HEOS", components)
        self.vapour.specify_phase(CoolProp.iphase_gas)
        self._trace(lowest, highest)

    def _fugacities(self, state, fractions, density, temperature):
        state.set_mole_fractions(list(fractions))
        state.update(CoolProp.DmolarT_INPUTS, density, temperature)
        coefficients = [state.fugacity_coefficient(i) for i in range(len(fractions))]
        return np.log(fractions * coefficients * state.p()), state.p()

    def _residual(self, unknowns, temperature):
        count = len(self.feed)
        appearing = np.exp(unknowns[:count])
        liquid, vapour = self.feed, appearing / appearing.sum()
        if self.quality == 1.0:
            liquid, vapour = vapour, liquid
        density = np.exp(unknowns[count:])
        in_liquid, p_liquid = self._fugacities(self.liquid, liquid, density[0], temperature)
        in_vapour, p_vapour = self._fugacities(self.vapour, vapour, density[1], temperature)
        rest = [p_liquid / p_vapour - 1.0, appearing.sum() - 1.0]
        return np.concatenate([in_liquid - in_vapour, rest]), p_vapour

    def _newton(self, unknowns, temperature):
        for _ in range(NEWTON_STEPS):
            residual, pressure = self._residual(unknowns, temperature)
            if np.abs(residual).max() < NEWTON_RESIDUAL:
                return unknowns, pressure
            jacobian = np.empty((len(unknowns), len(unknowns)))
            for column in range(len(unknowns)):
                moved = unknowns.copy()
                moved[column] += 1e-6
                jacobian[:, column] = (self._residual(moved, temperature)[0] - residual) / 1e-6
            step = np.linalg.solve(jacobian, -residual)
            unknowns = unknowns + step * min(1.0, 0.3 / np.abs(step).max())
        raise NotConverged(f"{temperature} K: residual {np.abs(residual).max():.1e}")

    def _first(self, temperature):
        self.flash.update(CoolProp.QT_INPUTS, self.quality, temperature)
        cold = self.flash
        appearing = (
            cold.mole_fractions_vapor() if self.quality == 0.0 else cold.mole_fractions_liquid()
        )
        densities = [
            cold.saturated_liquid_keyed_output(CoolProp.iDmolar),
            cold.saturated_vapor_keyed_output(CoolProp.iDmolar),
        ]
        return self._newton(np.log(np.concatenate([appearing, densities])), temperature)[0]

    def _trace(self, lowest, highest):
        self.temperatures = [lowest]
        self.solutions = [self._first(lowest)]
        step = FIRST_STEP
        while step >= LEAST_STEP and self.temperatures[-1] < highest:
            temperature = min(self.temperatures[-1] + step, highest)
            try:
                solution, _ = self._newton(self._guess(temperature), temperature)
                if np.exp(solution[-2] - solution[-1]) < LEAST_DENSITY_RATIO:
                    raise NotConverged("too near the critical point")
                self._must_be_smooth(solution)
            except (NotConverged, ValueError, np.linalg.LinAlgError):
                step /= 2.0
                continue
            self.temperatures.append(temperature)
            self.solutions.append(solution)
        self.highest = self.temperatures[-1]

    def _guess(self, temperature):
        """Along the straight line through the two nearest solved neighbours."""
        if len(self.temperatures) == 1:
            return self.solutions[0]
        right = int(np.searchsorted(self.temperatures, temperature))
        right = min(max(right, 1), len(self.temperatures) - 1)
        t0, t1 = self.temperatures[right - 1], self.temperatures[right]
        u0, u1 = self.solutions[right - 1], self.solutions[right]
        return u0 + (u1 - u0) * ((temperature - t0) / (t1 - t0))

    def _must_be_smooth(self, solution):
        """A jump to another root shows as a density far from its neighbour's."""
        if np.abs(solution - self.solutions[-1])[-2:].max() > 0.2:
            raise NotConverged("jumped to another root")

    def pressure(self, temperature):
        if not self.temperatures[0] <= temperature <= self.highest:
            raise NotConverged(f"{temperature} K is outside the traced curve")
        return self._newton(self._guess(temperature), temperature)[1]

    def density(self, temperature):
        """Of the line itself, mol/m3: of the liquid on the bubble line, of vapour on the dew line."""
        unknowns, _ = self._newton(self._guess(temperature), temperature)
        return float(np.exp(unknowns[-2 if self.quality == 0.0 else -1]))

    def one_phase(self):
        state = AbstractState("HEOS", "&".join(self.flash.fluid_names()))
        state.set_mole_fractions(list(self.feed))
        return state

    def flash_pressure(self, temperature):
        """CoolProp's own flash, for comparison; raises ValueError where it fails."""
        self.flash.update(CoolProp.QT_INPUTS, self.quality, temperature)
        return self.flash.p()


def saturation_curve(name, line, lowest, highest):
    """The curve of one line; its `highest` is at most `highest` and where the reference ends."""
    kind, coolprop_name = REFRIGERANTS[name]
    if kind == "mixture":
        return MixtureCurve(coolprop_name, line, lowest, highest)
    curve = FluidCurve(coolprop_name, line)
    curve.highest = min(curve.highest, highest)
    return curve


class Phase:
    """States of one phase, asked by temperature and density: no flash, so nothing to fail."""

    def __init__(self, curve, lowest, highest):
        self.curve = curve
        # Only the first guess of a density, so that its own accuracy does not matter.
        self.ln_density = Chebyshev.interpolate(
            lambda ts: np.log([curve.density(t) for t in ts]), 30, domain=[lowest, highest]
        )
        self.state = curve.one_phase()
        gas = curve.quality == 1.0
        self.state.specify_phase(CoolProp.iphase_gas if gas else CoolProp.iphase_liquid)

    def _answer(self):
        at = self.state
        return np.array([at.rhomass(), at.hmass(), at.smass(), at.cpmass()])

    def saturated(self, temperature):
        """kg/m3, J/kg, J/(kg K), J/(kg K) on the line itself; CoolProp's own zero of energy."""
        density = self.curve.density(temperature)
        self.state.update(CoolProp.DmolarT_INPUTS, density, temperature)
        return self._answer()

    def superheated(self, pressure, dew_temperature, superheat):
        """The same, this far above the dew temperature of the pressure; Newton on the density."""
        temperature = dew_temperature + superheat
        density = np.exp(self.ln_density(dew_temperature)) * dew_temperature / temperature
        for _ in range(60):
            self.state.update(CoolProp.DmolarT_INPUTS, density, temperature)
            slope = self.state.first_partial_deriv(CoolProp.iP, CoolProp.iDmolar, CoolProp.iT)
            step = (self.state.p() - pressure) / slope
            density -= min(max(step, -0.2 * density), 0.2 * density)
            if abs(step) < 1e-10 * density:
                return self._answer()
        raise NotConverged(f"{pressure} Pa, {temperature} K")


def described(name):
    """What the reference of a refrigerant rests on, in one line."""
    kind, coolprop_name = REFRIGERANTS[name]
    if kind != "mixture":
        return f"{kind}, {CoolProp.CoolProp.get_fluid_param_string(coolprop_name, 'BibTeX-EOS')}"
    state = AbstractState("HEOS", coolprop_name + ".mix")
    numbers = [
        CoolProp.CoolProp.get_fluid_param_string(one, "CAS") for one in state.fluid_names()
    ]
    papers = {
        pair_paper(a, b) for i, a in enumerate(numbers) for b in numbers[:i]
    }
    fractions = "/".join(f"{100.0 * x:.1f}" for x in state.get_mass_fractions())
    return (
        f"mixture, {'/'.join(state.fluid_names())} {fractions} % by mass, "
        f"{', '.join(sorted(papers))}"
    )


def pair_paper(a, b):
    """Where the parameters of a pair come from; CoolProp knows each pair in one order only."""
    for pair in ((a, b), (b, a)):
        try:
            return CoolProp.CoolProp.get_mixture_binary_pair_data(*pair, "BibTeX")
        except ValueError:
            continue
    raise ValueError(f"no parameters for the pair {a}, {b}")
