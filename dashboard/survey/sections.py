"""The written half of the page: lists and tables of the house file as sections of fields, in the order of a visit."""

from __future__ import annotations

from collections.abc import Iterator

from compare.house.services import Fuel
from compare.units import System
from dashboard.survey.draft.names import USE_NAMES, same
from dashboard.survey.draft.shape import items
from dashboard.survey.draft.things import SPACE_WORDS
from dashboard.survey.fields import (
    HABITS,
    SHELTER,
    SIDES,
    SLANTED,
    STOP_WORDS,
    Page,
    Spec,
    Way,
    field,
    level_names,
    named,
    room_names,
    row,
)
from dashboard.survey.mend import item_words

_USES = tuple((use, words.lower()) for use, words in USE_NAMES.items())
_SIDES_ALL = (*SIDES, *SLANTED)


def sections(page: Page) -> list[Spec]:
    """All sections of the page."""
    return [
        _house(page),
        _rooms(page),
        _joints(page),
        _windows(page),
        _furniture(page),
        _fabric(page),
        _comfort(page),
        _places(page),
        _behind(page),
        _heat(page),
    ]


def _section(key: str, title: str, line: str, rows: list[Spec], adds: list[Spec] | None = None) -> Spec:
    return {"key": key, "title": title, "line": line, "rows": rows, "adds": adds or []}


def _add(form: str, button: str, specs: list[Spec]) -> Spec:
    return {"form": form, "button": button, "fields": specs}


def _blank(key: str, label: str, kind: str = "text", choices: object = (), value: str = "", unit: str = "") -> Spec:
    """A field of a form that adds something; it belongs to no place of the file yet."""
    listed = [list(choice) for choice in choices]  # type: ignore[attr-defined]
    chosen = value or (listed[0][0] if listed and kind == "choice" else "")
    return {
        "id": key,
        "label": label,
        "kind": kind,
        "value": chosen,
        "unit": unit,
        "choices": listed,
        "ghost": "",
        "fault": "",
        "wide": False,
        "empty": False,
        "figures": bool(unit),
        "mark": "",
    }


def _group(title: str, specs: list[Spec]) -> Spec:
    return {"ref": "", "title": title, "fields": specs, "remove": False, "mark": "", "fault": ""}


def length(page: Page) -> str:
    """The unit of lengths."""
    return "m" if page.system is System.SI else "ft"


def _house(page: Page) -> Spec:
    own = [field(page, ("house", key)) for key in ("name", "built", "people")]
    zip_field = {**field(page, ("site", "zip")), "id": "zip"}
    place = [
        zip_field,
        field(page, ("site", "place")),
        field(page, ("site", "shelter"), Way(choices=SHELTER)),
        field(page, ("house", "plan_north"), Way(ghost="0, true north")),
    ]
    exact = [field(page, ("site", key)) for key in ("latitude", "longitude", "elevation", "weather")]
    design = [
        field(page, ("site", "design", key)) for key in ("heating_99", "cooling_1", "cooling_wet_bulb", "daily_range")
    ]
    notes = [field(page, ("house", "notes"), Way(wide=True, kind="notes"))]
    rows = [_group("", own), _group("Where it stands", place), _group("By the map", exact)]
    rows.append(_group("Weather to design for; empty takes the nearest station", design))
    rows.append(_group("", notes))
    return _section("house", "House and place", "The ZIP code brings the weather, the map and the height.", rows)


def room_fields(page: Page, position: int, *, level: bool = True) -> list[Spec]:
    """Name, use, place, size and height of a room."""
    loc, item = ("room", position), page.value(("room", position))
    found = [field(page, (*loc, "name")), field(page, (*loc, "use"), Way(choices=_USES))]
    if level and len(level_names(page)) > 1:
        found.append(field(page, (*loc, "level"), Way(choices=named(level_names(page)))))
    if isinstance(item, dict) and "outline" in item:
        found.append(field(page, (*loc, "outline"), Way(wide=True, kind="outline")))
    else:
        found += [
            field(page, (*loc, "size", 0), Way("Width")),
            field(page, (*loc, "size", 1), Way("Depth")),
            field(page, (*loc, "at", 0), Way("From left")),
            field(page, (*loc, "at", 1), Way("From bottom")),
        ]
    found.append(field(page, (*loc, "height"), Way(ghost="as its storey")))
    return found


def room_more(page: Page, position: int) -> list[Spec]:
    """What else may be said of a room."""
    keys = ("above", "below", "regular", "target", "use_hours")
    return [field(page, ("room", position, key)) for key in keys]


def _rooms(page: Page) -> Spec:
    rows = [
        row(page, "room", at, same(item.get("name")) or "Room", room_fields(page, at))
        for at, item in items(page.raw, "room")
    ]
    names = room_names(page)
    beside = [("", "the last room"), *named(names)] if names else [("", "the corner of the plan")]
    add = _add(
        "room",
        "Add the room",
        [
            _blank("use", "Used as", "choice", _USES),
            _blank("name", "Name, if not the usual"),
            _blank("wide", "Width", unit=length(page)),
            _blank("deep", "Depth", unit=length(page)),
            _blank(
                "side", "It stands", "choice", (("E", "right of"), ("N", "above"), ("W", "left of"), ("S", "below"))
            ),
            _blank("beside", "Beside", "choice", beside),
            *([_blank("level", "Storey", "choice", named(level_names(page)))] if len(level_names(page)) > 1 else []),
        ],
    )
    return _section("rooms", "Rooms", f"Inside sizes in {length(page)}; 12 ft 6 in or 3.8 m also reads.", rows, [add])


def joint_fields(page: Page, table: str, position: int) -> list[Spec]:
    """A door or opening between rooms, or an outside door."""
    loc, item = (table, position), page.value((table, position))
    inside = isinstance(item, dict) and "between" in item
    found: list[Spec] = []
    if table == "door" and inside:
        found += [field(page, (*loc, key), Way(choices=HABITS, kind="stops")) for key in ("night", "day")]
    if not inside and table == "door":
        return [*_in_wall(page, loc), *_size(page, loc)]
    found += [field(page, (*loc, "width")), field(page, (*loc, "height"))]
    return [*found, field(page, (*loc, "undercut"))] if table == "door" else found


def _in_wall(page: Page, loc: tuple[str, int]) -> list[Spec]:
    item = page.value(loc)
    side = item.get("wall") if isinstance(item, dict) else None
    slanted = [choice for choice in SLANTED if choice[0] == side]
    return [
        field(page, (*loc, "room"), Way(choices=named(room_names(page)))),
        field(page, (*loc, "wall"), Way(choices=(*SIDES, *slanted))),
    ]


def _size(page: Page, loc: tuple[str, int]) -> list[Spec]:
    """Area where the file gives that, else width and height."""
    item = page.value(loc)
    by_area = isinstance(item, dict) and "area" in item and "width" not in item
    return [field(page, (*loc, key)) for key in (("area",) if by_area else ("width", "height"))]


def _joints(page: Page) -> Spec:
    rows = [
        row(page, table, at, _joined(table, item), joint_fields(page, table, at))
        for table in ("door", "opening")
        for at, item in items(page.raw, table)
        if "between" in item
    ]
    rows += [
        row(
            page,
            "stair",
            at,
            item_words("stair", item),
            [field(page, ("stair", at, key)) for key in ("width", "height")],
        )
        for at, item in items(page.raw, "stair")
    ]
    names = named(room_names(page))
    adds = []
    if len(names) > 1:
        pair = [_blank("one", "Between", "choice", names), _blank("other", "and", "choice", names[1:] + names[:1])]
        kinds = (("door", "a door"), ("opening", "an opening without a door"))
        adds.append(_add("joint", "Add it", [_blank("kind", "Put in", "choice", kinds), *pair]))
    if len(level_names(page)) > 1:
        ends = [_blank("lower", "Stair from", "choice", names), _blank("upper", "up to", "choice", names)]
        adds.append(_add("stair", "Add the stair", ends))
    line = "Ask of each door: is it shut at night, and how does it stand by day?"
    return _section("doors", "Doors, openings and stairs", line, rows, adds)


def _joined(table: str, item: dict[str, object]) -> str:
    pair = item.get("between")
    ends = " – ".join(same(end) for end in pair) if isinstance(pair, list) else "?"
    return ends if table == "door" else f"{ends}, open"


def window_fields(page: Page, position: int) -> list[Spec]:
    """A window: where, how large, how many."""
    loc = ("window", position)
    return [*_in_wall(page, loc), *_size(page, loc), field(page, (*loc, "count"), Way(ghost="1"))]


def window_more(page: Page, position: int) -> list[Spec]:
    """What else may be said of a window."""
    keys = ("u", "shgc", "shade", "overhang", "overhang_above")
    return [field(page, ("window", position, key)) for key in keys]


def _windows(page: Page) -> Spec:
    rows = [
        row(page, "window", at, item_words("window", item), window_fields(page, at))
        for at, item in items(page.raw, "window")
    ]
    rows += [
        row(page, "door", at, item_words("door", item), joint_fields(page, "door", at))
        for at, item in items(page.raw, "door")
        if "between" not in item
    ]
    kinds = (("window", "a window"), ("door", "an outside door"))
    fields_ = [
        _blank("kind", "Put in", "choice", kinds),
        _blank("room", "Room", "choice", named(room_names(page))),
        _blank("side", "Wall", "choice", SIDES),
        _blank("width", "Width", unit=length(page)),
        _blank("height", "Height", unit=length(page)),
    ]
    line = "Walls by where they lie on the plan. The rough opening is enough."
    return _section("windows", "Windows and outside doors", line, rows, [_add("hole", "Add it", fields_)])


def _furniture(page: Page) -> Spec:
    rows = []
    for table, keys in (("bed", ("sleepers", "regular")), ("seat", ("kind",))):
        for at, item in items(page.raw, table):
            own = [field(page, (table, at, key)) for key in keys]
            own += [
                field(page, (table, at, "at", 0), Way("From the left")),
                field(page, (table, at, "at", 1), Way("From the bottom")),
            ]
            rows.append(row(page, table, at, item_words(table, item), own))
    kinds = (("bed", "a bed"), ("seat", "a seat"))
    adds = [
        _add(
            "thing",
            "Add it",
            [_blank("kind", "Put in", "choice", kinds), _blank("room", "Room", "choice", named(room_names(page)))],
        )
    ]
    return _section(
        "furniture", "Beds and seats", "The bed's point is the pillow: noise and draught are judged there.", rows, adds
    )


def _fabric(page: Page) -> Spec:
    first = [field(page, ("fabric", "age"), Way(ghost="by the year built")), field(page, ("fabric", "wall_type"))]
    first += [field(page, ("air", key)) for key in ("class", "ach50")]
    keys = ("wall_u", "ceiling_u", "roof_u", "floor_u", "slab_edge", "window_u", "window_shgc", "door_u")
    values = [field(page, ("fabric", key)) for key in keys]
    fan = [field(page, ("air", key)) for key in ("ventilation_kind", "ventilation", "heat_recovery")]
    rows = [
        _group("", first),
        _group("Measured or known; empty takes what is usual for its age", values),
        _group("Fresh air", fan),
    ]
    rows += list(_levels(page))
    adds = [_add("level", "Add a storey on top", [_blank("name", "Name")])]
    return _section(
        "fabric", "Walls, roof, floor and air", "What it is built of. The age alone gives a first answer.", rows, adds
    )


def _levels(page: Page) -> Iterator[Spec]:
    for at, item in items(page.raw, "level"):
        specs = [field(page, ("level", at, key)) for key in ("name", "height", "below", "above")]
        yield row(page, "level", at, f"Storey “{same(item.get('name'))}”", specs)


def _comfort(page: Page) -> Spec:
    warm = [field(page, ("comfort", key)) for key in ("heating", "sleep", "wash", "work", "cooling")]
    keys = ("warm_and_even", "quiet", "lower_price", "lower_bills", "steady_running", "few_units_in_sight")
    wants = [
        field(page, ("priorities", key), Way(choices=STOP_WORDS, ghost="not at all" if key == keys[-1] else "some"))
        for key in keys
    ]
    rows = [_group("Temperatures that the family keeps", warm), _group("What matters to them", wants)]
    return _section("comfort", "The family's wishes", "Asked, not guessed.", rows)


def space_fields(page: Page, position: int) -> list[Spec]:
    """A space for a hidden unit."""
    loc = ("unit_space", position)
    return [
        field(page, (*loc, "name")),
        field(page, (*loc, "kind"), Way(choices=tuple(SPACE_WORDS.items()))),
        *(
            field(page, (*loc, "clear", k), Way(words))
            for k, words in enumerate(("Clear length", "Clear width", "Clear height"))
        ),
        field(page, (*loc, "drain_fall")),
        field(page, (*loc, "service"), Way(ghost="hall, from below")),
        field(page, (*loc, "inside")),
    ]


def _places(page: Page) -> Spec:
    rows = [
        row(page, "unit_space", at, item_words("unit_space", item), space_fields(page, at))
        for at, item in items(page.raw, "unit_space")
    ]
    for at, item in items(page.raw, "head_place"):
        specs = [
            field(page, ("head_place", at, "throws"), Way(choices=_SIDES_ALL)),
            field(page, ("head_place", at, "outside_wall")),
        ]
        rows.append(row(page, "head_place", at, item_words("head_place", item), specs))
    for at, item in items(page.raw, "outdoor_spot"):
        specs = [field(page, ("outdoor_spot", at, key)) for key in ("name", "property_line", "bedroom_window", "units")]
        rows.append(row(page, "outdoor_spot", at, item_words("outdoor_spot", item), specs))
    line = "Drawn on the plan; measured here. Whether a beam or truss may be cut is for a licensed builder to judge."
    return _section("places", "Places for units", line, rows)


def _behind(page: Page) -> Spec:
    rows = [
        row(
            page,
            "wall",
            at,
            item_words("wall", item),
            [
                field(page, ("wall", at, "room"), Way(choices=named(room_names(page)))),
                field(page, ("wall", at, "side"), Way(choices=_SIDES_ALL)),
                field(page, ("wall", at, "beyond")),
            ],
        )
        for at, item in items(page.raw, "wall")
    ]
    beyond = (("garage", "garage"), ("unheated basement", "unheated basement"), ("heated neighbour", "heated neighbor"))
    specs = [
        _blank("room", "Room", "choice", named(room_names(page))),
        _blank("side", "Wall", "choice", SIDES),
        _blank("beyond", "Behind it", "choice", beyond),
    ]
    line = "Outer walls face the open air. Say here which do not."
    return _section("behind", "Walls to a garage, basement or neighbor", line, rows, [_add("behind", "Add it", specs)])


def _heat(page: Page) -> Spec:
    today = [field(page, ("existing_heat", key)) for key in ("fuel", "efficiency", "price", "keep")]
    power = [
        field(page, ("panel", key), Way(ghost=ghost)) for key, ghost in (("service_amps", "200"), ("free_spaces", "4"))
    ]
    rates = [field(page, ("rates", key)) for key in ("electricity", "gas", "oil", "propane", "wood")]
    rows = [_group("Heat today", today), _group("Electric panel", power), _group("Prices", rates)]
    for at, _ in items(page.raw, "bill"):
        specs = [field(page, ("bill", at, key)) for key in ("from", "to", "fuel", "amount", "cost", "mean")]
        rows.append(row(page, "bill", at, f"Bill {at + 1}", specs))
    fuels = [(fuel.value, fuel.value) for fuel in Fuel if fuel is not Fuel.NONE]
    bill = [
        _blank("fuel", "Bill for", "choice", fuels),
        _blank("from", "From", "date"),
        _blank("to", "Up to, not with", "date"),
        _blank("amount", "Units used", unit="therms, gallons, kWh or cords"),
    ]
    line = "From the nameplate, the panel and the bills. Only a licensed electrician opens the panel."
    return _section("heat", "Heat today, panel, prices and bills", line, rows, [_add("bill", "Add the bill", bill)])
