"""Capacity and COP of a unit at the rating points, in SI, and the rules that derive one set of points from another."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Final

from compare.equipment.rules import rule
from compare.equipment.table import to_c

HEAT_C: Final = (to_c(47.0), to_c(17.0), to_c(5.0), to_c(-5.0))
"""Outdoor temperatures of the heating points [degC]."""
COOL_C: Final = to_c(95.0)
"""Outdoor temperature of the cooling points [degC]."""

COLD_COP: Final = 1.75
"""Least COP at 5 degF of a unit called cold-climate (published list criterion)."""
COLD_CAPACITY_FRAC: Final = 0.70
"""Least output at 5 degF over rated output at 47 degF of a unit called cold-climate."""

Four = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class HeatPoints:
    """Heating: least and most output with their COP at 47, 17, 5 and -5 degF, and the rated point at 47 degF."""

    min_w: Four
    max_w: Four
    min_cop: Four
    max_cop: Four
    rated_w: float
    rated_cop: float


@dataclass(frozen=True, slots=True)
class CoolPoints:
    """Cooling at 95 degF outdoors, 80/67 degF indoors: total output and COP at least, rated and most output."""

    min_w: float
    rated_w: float
    max_w: float
    min_cop: float
    rated_cop: float
    max_cop: float


@dataclass(frozen=True, slots=True)
class RatedOutput:
    """What a unit delivers, net of its rated indoor fan. Below `cutoff_c` outdoors the compressor does not heat."""

    heat: HeatPoints
    cool: CoolPoints
    cutoff_c: float

    @property
    def cold_climate(self) -> bool:
        """COP at 5 degF at least 1.75 and output there at least 0.70 of rated at 47 degF (published list criteria)."""
        return self.heat.max_cop[2] >= COLD_COP and self.heat.max_w[2] >= COLD_CAPACITY_FRAC * self.heat.rated_w

    def problems(self) -> tuple[str, ...]:
        """What is out of order among the points: sentences without the name of the unit."""
        heat, cool = self.heat, self.cool
        checks = (
            (cool.min_w < cool.rated_w <= cool.max_w, "cooling output must rise from min to rated to max"),
            (heat.min_w[0] < heat.rated_w <= heat.max_w[0], "heating output at 47 F must rise min, rated, max"),
            (
                all(a >= b for a, b in zip(heat.max_w, heat.max_w[1:], strict=False)),
                "maximum heating must not rise as it gets colder outdoors",
            ),
            (
                all(a < b for a, b in zip(heat.min_w, heat.max_w, strict=True)),
                "minimum heating must stay below maximum",
            ),
            (cool.min_cop >= cool.rated_cop >= cool.max_cop, "cooling COP must not rise from min to rated to max"),
            (
                heat.min_cop[0] >= heat.rated_cop >= heat.max_cop[0],
                "heating COP at 47 F must not rise from min to rated to max",
            ),
        )
        return tuple(text for good, text in checks if not good)


def standard_class(output: RatedOutput) -> RatedOutput:
    """The same size as a unit that is not made for cold climates.

    Maximum heating is a fixed share of rated output at 47 degF; both COP lines fall by the same share below 47 degF
    (the published rule speaks of the maximum line only; taking the minimum line along is our judgement).
    Source: from memory.
    """
    heat = output.heat
    names = ("47", "17", "5", "m5")
    max_w = tuple(rule("standard_class", f"max_{name}_frac") * heat.rated_w for name in names)
    factor = (1.0, *(rule("standard_class", f"cop_{name}_frac") for name in names[1:]))
    scaled = replace(
        heat,
        max_w=_four(max_w),
        min_w=_four(tuple(min(low, 0.9 * high) for low, high in zip(heat.min_w, max_w, strict=True))),
        max_cop=_four(tuple(cop * f for cop, f in zip(heat.max_cop, factor, strict=True))),
        min_cop=_four(tuple(cop * f for cop, f in zip(heat.min_cop, factor, strict=True))),
    )
    return RatedOutput(scaled, output.cool, rule("standard_class", "cutoff_c"))


def fixed_minimum(output: RatedOutput, min_w: float) -> RatedOutput:
    """The same unit with one minimum output at every temperature, COP unchanged: for what-if questions and checks.

    Raises
    ------
    ValueError
        When the minimum is not positive or not below the maximum at every point.
    """
    if not 0.0 < min_w < min(*output.heat.max_w, output.cool.max_w):
        raise ValueError(f"min_w must lie between 0 and the least maximum output of the unit, got {min_w:g} W")
    heat = replace(output.heat, min_w=(min_w, min_w, min_w, min_w))
    return replace(output, heat=heat, cool=replace(output.cool, min_w=min_w))


def scaled(output: RatedOutput, cop_frac: float = 1.0, min_frac: float = 1.0) -> RatedOutput:
    """All COP multiplied by `cop_frac` and all minimum outputs by `min_frac`: the draws of the uncertainty study."""
    heat, cool = output.heat, output.cool
    new_heat = replace(
        heat,
        min_w=_four(tuple(w * min_frac for w in heat.min_w)),
        min_cop=_four(tuple(c * cop_frac for c in heat.min_cop)),
        max_cop=_four(tuple(c * cop_frac for c in heat.max_cop)),
        rated_cop=heat.rated_cop * cop_frac,
    )
    new_cool = replace(
        cool,
        min_w=cool.min_w * min_frac,
        min_cop=cool.min_cop * cop_frac,
        rated_cop=cool.rated_cop * cop_frac,
        max_cop=cool.max_cop * cop_frac,
    )
    return RatedOutput(new_heat, new_cool, output.cutoff_c)


def _four(values: tuple[float, ...]) -> Four:
    one, two, three, four = values
    return (one, two, three, four)
