"""From checked table rows to units: pairs, shared outdoor units and sound shapes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from compare.equipment.columns import BANDS_HZ, SPEEDS, TABLES, bundled
from compare.equipment.output import CoolPoints, Four, HeatPoints, RatedOutput
from compare.equipment.table import CatalogueError, Row, read_table
from compare.equipment.unit import BySpeed, Cabinet, IndoorUnit, OutdoorUnit, Pair, SharedUnit, UnitKind

Key = tuple[UnitKind, float]


@dataclass(frozen=True, slots=True, eq=False)
class Units:
    """What the tables of a catalogue hold, in order of kind and size."""

    pairs: tuple[Pair, ...]
    shared: tuple[SharedUnit, ...]
    spectra: Mapping[tuple[str, str], tuple[float, ...]]


def assemble(texts: Mapping[str, str]) -> Units:
    """Units from the tables given, bundled tables for those that are not.

    Raises
    ------
    CatalogueError
        With every problem of the first stage that has any: cells, then rows that do not fit together.
    """
    tables = {name: read_table(texts.get(name) or bundled(name), name, columns) for name, columns in TABLES.items()}
    problems: list[str] = []
    pairs = _pairs(tables, problems)
    shared = _shared_units(tables, problems)
    if problems:
        raise CatalogueError("\n".join(problems))
    order = {kind: place for place, kind in enumerate(UnitKind)}
    pairs.sort(key=lambda pair: (order[pair.kind], pair.size_kbtuh))
    shared.sort(key=lambda unit: unit.outdoor.size_kbtuh)
    spectra = {
        (row.texts["shape"], row.texts["speed"]): tuple(row.numbers[f"b{band}"] for band in BANDS_HZ)
        for row in tables["spectra.csv"]
    }
    return Units(tuple(pairs), tuple(shared), spectra)


def _pairs(tables: Mapping[str, tuple[Row, ...]], problems: list[str]) -> list[Pair]:
    cop = _keyed(tables["cop.csv"], problems)
    indoor = _keyed(tables["indoor.csv"], problems)
    single = _sized(tables["outdoor_single.csv"], problems)
    pairs = []
    for key, row in _keyed(tables["capacity.csv"], problems).items():
        holds = {"cop.csv": key in cop, "indoor.csv": key in indoor, "outdoor_single.csv": key[1] in single}
        missing = [name for name, there in holds.items() if not there]
        if missing:
            problems.append(f"{row.where}: {key[0]} {key[1]:g} has no row in {', '.join(missing)}")
            continue
        pairs.append(Pair(_indoor(key, indoor[key]), _single(single[key[1]]), _output(row, cop[key], problems)))
    return pairs


def _size(row: Row) -> float:
    return round(row.numbers["size"], 3)


def _keyed(rows: tuple[Row, ...], problems: list[str]) -> dict[Key, Row]:
    found: dict[Key, Row] = {}
    for row in rows:
        word = row.texts["type"]
        if word not in list(UnitKind):
            problems.append(f"{row.where}: column 'type': {word!r} is not a kind; allowed: {', '.join(UnitKind)}")
            continue
        key = (UnitKind(word), _size(row))
        if key in found:
            problems.append(f"{row.where}: {word} {key[1]:g} stands twice, first at {found[key].where}")
        found[key] = row
    return found


def _sized(rows: tuple[Row, ...], problems: list[str]) -> dict[float, Row]:
    found: dict[float, Row] = {}
    for row in rows:
        size = _size(row)
        if size in found:
            problems.append(f"{row.where}: size {size:g} stands twice, first at {found[size].where}")
        found[size] = row
    return found


def _heat_line(row: Row, prefix: str, which: str) -> Four:
    one, two, three, four = (row.numbers[f"{prefix}{point}_{which}"] for point in ("h47", "h17", "h5", "hm5"))
    return (one, two, three, four)


def _output(row: Row, cop: Row, problems: list[str]) -> RatedOutput:
    watts, ratio = row.numbers, cop.numbers
    heat = HeatPoints(
        min_w=_heat_line(row, "", "min"),
        max_w=_heat_line(row, "", "max"),
        min_cop=_heat_line(cop, "cop_", "min"),
        max_cop=_heat_line(cop, "cop_", "max"),
        rated_w=watts["h47_rated"],
        rated_cop=ratio["cop_h47_rated"],
    )
    cool = CoolPoints(
        watts["c95_min"], watts["c95_rated"], watts["c95_max"],
        ratio["cop_c95_min"], ratio["cop_c95_rated"], ratio["cop_c95_max"],
    )  # fmt: skip
    output = RatedOutput(heat, cool, watts["cutoff"])
    problems.extend(f"{row.where}: {problem}" for problem in output.problems())
    return output


def _by_speed(row: Row, prefix: str) -> BySpeed:
    return BySpeed(*(row.numbers[f"{prefix}_{speed}"] for speed in SPEEDS))


def _cabinet(row: Row) -> Cabinet:
    return Cabinet(row.numbers["cab_w"], row.numbers["cab_h"], row.numbers["cab_d"])


def _indoor(key: Key, row: Row) -> IndoorUnit:
    return IndoorUnit(
        kind=key[0],
        size_kbtuh=key[1],
        airflow_m3_s=_by_speed(row, "air"),
        sound_power_dba=_by_speed(row, "lw"),
        fan_w_m3_s=row.numbers["fan_specific"],
        static_pa=row.numbers["esp"],
        cabinet=_cabinet(row),
        source=row.texts["source"],
        model=row.texts.get("model", ""),
    )


def _outdoor(row: Row, ports: int, connected_kbtuh: tuple[float, float], line_m: tuple[float, float]) -> OutdoorUnit:
    return OutdoorUnit(
        size_kbtuh=_size(row),
        ports=ports,
        connected_least_kbtuh=connected_kbtuh[0],
        connected_most_kbtuh=connected_kbtuh[1],
        sound_power_dba=row.numbers["lw"],
        circuit_a=row.numbers["circuit"],
        volts=row.texts["volts"],
        charge_kg=row.numbers["charge"],
        cabinet=_cabinet(row),
        line_total_m=line_m[0],
        line_branch_m=line_m[1],
        lift_m=row.numbers["lift_max"],
        source=row.texts["source"],
        model=row.texts.get("model", ""),
    )


def _single(row: Row) -> OutdoorUnit:
    line_m = row.numbers["line_max"]
    return _outdoor(row, 1, (_size(row), _size(row)), (line_m, line_m))


def _shared_units(tables: Mapping[str, tuple[Row, ...]], problems: list[str]) -> list[SharedUnit]:
    cop = _sized(tables["cop_shared.csv"], problems)
    units = []
    for size, row in _sized(tables["outdoor_shared.csv"], problems).items():
        if size not in cop:
            problems.append(f"{row.where}: size {size:g} has no row in cop_shared.csv")
            continue
        number = row.numbers
        if number["conn_min"] >= number["conn_max"]:
            problems.append(f"{row.where}: column 'conn_min' must be below 'conn_max'")
        connected = (number["conn_min"], number["conn_max"])
        lines = (number["line_total"], number["line_branch"])
        outdoor = _outdoor(row, round(number["ports"]), connected, lines)
        units.append(SharedUnit(outdoor, _output(row, cop[size], problems)))
    return units
