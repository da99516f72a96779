"""From a room of the plan to what the year kernel needs of it, with the parts of its load kept apart on request."""

from __future__ import annotations

from collections.abc import Container, Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from compare.house.plan import RoomPlan
from compare.physics.fabric.assemble import FullRoom, full_room_of_parts
from compare.physics.fabric.drivers import Drivers
from compare.physics.fabric.forcing import Gains, Source, sources
from compare.physics.fabric.modes import Desk, Modes, modes_of, run_periodic
from compare.physics.fabric.parts import FabricOptions, InsideMass, house_options, parts_of_room
from compare.physics.fabric.reduce import fit_branches
from compare.physics.room import BRANCHES, HELD_C, MeanRadiant, RoomFabric

FloatArray = npt.NDArray[np.float64]

AIR_J_KGK = 1006.0
MODES_AT_ONCE = 16
"""Modes run together: few enough to stay in the cache of a core."""


@dataclass(frozen=True, slots=True, eq=False)
class PreparedRoom:
    """A room whose full model is solved into modes; independent of weather, so it may be kept and driven often."""

    full: FullRoom
    modes: Modes


def prepare_room(
    room: RoomPlan, inside: Iterable[InsideMass] = (), options: FabricOptions | None = None
) -> PreparedRoom:
    """Build the full model of a room and solve its modes.

    Parameters
    ----------
    room
        The room with its surfaces.
    inside
        Halves of partitions and inside floors (`inside_masses`); empty leaves them out.
    options
        Choices of the model; None means those for houses.
    """
    chosen = house_options() if options is None else options
    air_j_k = AIR_J_KGK * chosen.air_density_kg_m3 * room.volume_m3 + chosen.furnishings_j_m2k * room.area_m2
    try:
        full = full_room_of_parts(parts_of_room(room, inside, chosen), air_j_k, chosen)
    except ValueError as error:
        raise ValueError(f"room {room.name!r}: {error}") from error
    return PreparedRoom(full, modes_of(full))


def room_fabric(
    room: RoomPlan,
    drivers: Drivers,
    gains: Gains | None = None,
    inside: Iterable[InsideMass] = (),
    options: FabricOptions | None = None,
) -> RoomFabric:
    """What the year kernel needs of one room: steady conductance, two mass branches, and heat with air at 20 degC.

    The full room (finite volumes in every layer, radiant star, two-pane glass) is run with its air held; massless
    nodes are eliminated exactly; two branches are fitted to the step response of the rest. `drivers` may span any whole
    number of hours and are taken as one period that repeats.
    """
    return drive_room(prepare_room(room, inside, options), drivers, gains)


def drive_room(
    prepared: PreparedRoom, drivers: Drivers, gains: Gains | None = None, branches: int = BRANCHES
) -> RoomFabric:
    """The reduced room of a prepared full room under given drivers and gains."""
    full, modes = prepared.full, prepared.modes
    found = sources(full, drivers, gains, HELD_C)
    q20_w, radiant_k = _driven(modes, found, drivers)
    fitted = fit_branches(modes, branches)
    spare = BRANCHES - branches
    return RoomFabric(
        g0_w_k=modes.g0_w_k,
        branch_g_w_k=np.append(fitted.g_w_k, np.zeros(spare)),
        branch_tau_s=np.append(fitted.tau_s, np.full(spare, 3600.0)),
        air_j_k=full.air_j_k,
        q20_w=q20_w,
        reduction_error_frac=fitted.error_frac,
        mean_radiant=MeanRadiant(
            held_c=HELD_C + radiant_k,
            air_frac=modes.radiant_air_frac,
            branch_frac=np.append(fitted.radiant_frac, np.zeros(spare)),
        ),
    )


def held_heat_w(
    prepared: PreparedRoom, drivers: Drivers, gains: Gains | None = None, held_c: float = HELD_C
) -> FloatArray:
    """Heat into the air held at any temperature, per hour [W]; positive warms the air."""
    found = sources(prepared.full, drivers, gains, held_c)
    return _driven(prepared.modes, found, drivers)[0]


def held_heat_by_part_w(
    prepared: PreparedRoom,
    drivers: Drivers,
    gains: Gains | None = None,
    held_c: float = HELD_C,
    causes: Container[str] | None = None,
) -> dict[str, FloatArray]:
    """Heat into the held air by cause, per hour [W]; the parts sum to `held_heat_w`. `causes` leaves out all others.

    Causes are "wall", "ceiling", "floor", "outside door" (each with the sun on its outside and its loss to the sky),
    "window glass" (conduction and loss to the sky), "sun through glass" (transmitted, and absorbed in panes), and
    "inside gains". Each is the whole chain from cause to air: sun counts when the surfaces it warmed give it off.
    """
    by_label: dict[str, list[Source]] = {}
    for source in sources(prepared.full, drivers, gains, held_c):
        if causes is None or source.label in causes:
            by_label.setdefault(source.label, []).append(source)
    return {label: _driven(prepared.modes, own, drivers)[0] for label, own in by_label.items()}


def _driven(modes: Modes, found: list[Source], drivers: Drivers) -> tuple[FloatArray, FloatArray]:
    """Heat into the air [W] and mean radiant temperature above the held one [K], both per hour."""
    if not found:
        return np.zeros(drivers.hours), np.zeros(drivers.hours)
    weights = np.array([source.weight_frac for source in found])
    heat_w = np.array([source.heat_w for source in found])
    inlets, outlets = modes.into @ weights.T, np.vstack([modes.air_w_k, modes.radiant_frac])
    read = np.zeros((2, drivers.hours))
    desk = Desk(MODES_AT_ONCE, drivers.hours)
    for first in range(0, modes.rate_per_s.size, MODES_AT_ONCE):
        some = slice(first, first + MODES_AT_ONCE)
        forcing = np.matmul(inlets[some], heat_w, out=desk.forcing[: inlets[some].shape[0]])
        read += outlets[:, some] @ run_periodic(modes.rate_per_s[some], forcing, drivers.step_s, desk)
    air_frac = np.array([source.air_frac for source in found])
    q_w: FloatArray = read[0] + (weights @ modes.direct_frac + air_frac) @ heat_w
    radiant_k: FloatArray = read[1] + (weights @ modes.radiant_direct_k_w) @ heat_w
    return q_w, radiant_k
