"""The survey page: its frame, which stays, and what fills it after each event."""

from __future__ import annotations

from typing import Any

import dash_mantine_components as dmc
from dash import dcc, html
from dash.development.base_component import Component

from compare.units import System
from dashboard.desk.parts import table
from dashboard.store import new_name
from dashboard.survey.card import card
from dashboard.survey.components import Hear, Pick, PlanBoard, Sheet
from dashboard.survey.draft.names import USE_NAMES, same
from dashboard.survey.draft.shape import GRID_U, items, system_of
from dashboard.survey.draft.things import SPACE_WORDS
from dashboard.survey.fields import Page, level_names, path
from dashboard.survey.first import first_screen
from dashboard.survey.live import Live, Unknown
from dashboard.survey.parts import form_field, saying, switch
from dashboard.survey.plan import Shown, plan_svg
from dashboard.survey.sections import sections
from dashboard.survey.told import area, kept, lead, missing, power, sentence
from dashboard.survey.work import Look, Seen, Survey
from dashboard.table.tap import named
from dashboard.tokens import PAGE, mantine_theme

TOOLS = (
    ("choose", "Choose"),
    ("room", "Draw a room"),
    ("door", "Door"),
    ("opening", "Opening"),
    ("window", "Window"),
    ("bed", "Bed"),
    ("seat", "Seat"),
    ("space", "Hidden-unit space"),
    ("head", "Wall-unit place"),
    ("outdoor", "Outdoor place"),
)
HINTS = {
    "choose": "Tap a room, door or window to choose it. Then drag it, or pull a handle.",
    "room": "Drag from one corner of the room to the other.",
    "door": "Tap the wall where the door is; an outer wall gets an outside door.",
    "opening": "Tap the wall between two rooms that are open to each other.",
    "window": "Tap the outside wall where the window is.",
    "bed": "Tap where the pillow lies.",
    "seat": "Tap where people sit.",
    "space": "Drag over the hall ceiling, closet or attic where a hidden unit could go.",
    "head": "Tap in a room near the wall where a unit could hang.",
    "outdoor": "Tap the ground outside where the outdoor unit could stand.",
}
PLACES = (
    ("house", "House and place"),
    ("rooms", "Rooms"),
    ("doors", "Doors"),
    ("windows", "Windows"),
    ("furniture", "Beds and seats"),
    ("fabric", "Walls and air"),
    ("comfort", "Wishes"),
    ("places", "Places for units"),
    ("behind", "Garage walls"),
    ("heat", "Heat and prices"),
)
MOST_HIGH_PX = 560.0


def layout(survey: Survey) -> Component:
    """The whole page before anything was said."""
    regions = filled(survey, Look())
    editor = html.Main(
        [
            html.Div(id="head", className="head", role="status"),
            html.Div(
                [
                    html.Div(
                        [
                            html.Div(id="tools", className="tools"),
                            PlanBoard(id="board", svg="", frame={}, tool="choose", unit="ft", step=0.5),
                            html.Div(id="under", className="under"),
                        ],
                        className="drawing-side",
                    ),
                    html.Div(
                        [
                            html.Section(
                                Sheet(id="card", sections=[], folds=False),
                                className="card-side",
                                **named("What is chosen"),
                            ),
                            html.Div(id="side"),
                        ],
                        className="telling-side",
                    ),
                    html.Div(id="loads", className="loads-side"),
                ],
                className="sides",
            ),
            html.Nav(
                [html.A(words, href=f"#part-{key}") for key, words in PLACES],
                className="places",
                **named("On this page"),
            ),
            Sheet(id="sheet", sections=[], folds=True),
        ],
        id="editor",
        className=regions["editor"],
    )
    page: Component = dmc.MantineProvider(
        id="look",
        theme=mantine_theme(),
        defaultColorScheme="auto",
        children=[
            dcc.Store(id="tablet", data=new_name()),
            Hear(
                id="hear",
                className="desk survey",
                said=None,
                heard=0,
                seen=-1,
                file="",
                waiting=False,
                children=[html.Header(id="top", className="top"), html.Div(id="start"), editor],
            ),
        ],
    )
    return page


def filled(survey: Survey, look: Look) -> dict[str, Any]:
    """Everything that follows what a tablet looks at, by region."""
    seen = survey.seen(look)
    if seen is None:
        return first_screen(survey, look)
    system = system_of(seen.draft.raw)
    page = Page(seen.draft.raw, seen.judged.mends)
    svg, frame = plan_svg(seen.draft.raw, _shown(seen, system))
    return {
        "heard": look.heard,
        "seen": seen.draft.version,
        "file": look.file,
        "waiting": seen.waiting,
        "editor": "editor",
        "top": _top(seen, survey),
        "start": [],
        "head": _head(seen, system),
        "tools": _tools(seen),
        "under": _under(seen, page),
        "svg": svg,
        "frame": {
            "left": frame.left_u,
            "top": frame.top_u,
            "px": frame.px_u,
            "x": frame.round_px[3],
            "y": frame.round_px[0],
        },
        "tool": look.tool,
        "unit": "m" if system is System.SI else "ft",
        "step": GRID_U[system],
        "card": card(page, look.chosen),
        "side": [_mends(seen), *_missing(seen)],
        "loads": [_loads(seen, system)],
        "sheet": sections(page),
    }


def _shown(seen: Seen, system: System) -> Shown:
    heat = {}
    if isinstance(seen.live, Live):
        for room in seen.live.rooms:
            cool = "" if room.cool_w is None else power(room.cool_w, system).split("\u00a0")[0]
            heat[room.name] = f"{power(room.heat_w, system).split(chr(160))[0]}\n{cool}"
    rooms = dict(items(seen.draft.raw, "room"))
    positions = {mend.loc[1] for mend in seen.judged.mends if mend.loc[:1] == ("room",) and len(mend.loc) > 1}
    faulty = frozenset(same(room.get("name")) for position, room in rooms.items() if position in positions)
    return Shown(seen.look.level, seen.look.chosen, seen.look.width_px, MOST_HIGH_PX, PAGE, heat, faulty)


def _top(seen: Seen, survey: Survey) -> list[Component]:
    house = seen.draft.raw.get("house")
    name = house.get("name") if isinstance(house, dict) else None
    state = "not saved" if seen.open.dirty else "saved"
    look = seen.look
    whose = html.Div(
        [
            html.Span(str(name or "A house without a name"), className="whose"),
            html.Span(f"survey · {seen.open.file}", className="quiet"),
            html.Span(state, className="mark"),
        ],
        className="house-name",
    )
    steps = [
        saying("Undo", "button", enabled=bool(seen.draft.past), what="undo"),
        saying("Redo", "button", enabled=bool(seen.draft.future), what="redo"),
    ]
    ready = not seen.open.dirty and not seen.judged.mends and survey.compare is not None
    last = (
        saying("Compare layouts for this house", "button main", what="compare")
        if ready and not look.comparing
        else html.A("See the comparison", href=look.comparing, className="button main")
        if ready
        else saying("Save the house", "button main", what="save")
    )
    return [
        whose,
        saying("All houses", "button", what="leave"),
        *steps,
        last,
    ]


def _head(seen: Seen, system: System) -> list[Component]:
    note = seen.look.note
    css = "lead wrong" if seen.look.wrong else "lead done"
    second = html.P(note, className=css) if note else html.P(lead(seen, system), className="lead")
    said: list[Component] = [html.H1(sentence(seen, system)), second]
    if seen.open.kept:
        said.append(html.P(seen.open.kept, className="note-line wrong"))
    if seen.look.conflict:
        form = {
            "key": "conflict",
            "title": "",
            "line": "",
            "rows": [],
            "adds": [
                {
                    "form": "save",
                    "what": "save",
                    "button": "Save under this name",
                    "fields": [form_field("name", "File name", value=_other_name(seen.open.file))],
                }
            ],
        }
        said.append(Sheet(id="conflict", sections=[form], folds=False))
        said.append(saying("Give up my changes, take the file as it is", "button", what="discard"))
    return said


def _other_name(file: str) -> str:
    return f"{file.removesuffix('.toml')} mine.toml"


def _tools(seen: Seen) -> list[Component]:
    look = seen.look
    rows: list[Component] = [
        html.Div(
            [saying(words, "chip", pressed=key == look.tool, what="tool", tool=key) for key, words in TOOLS],
            className="chips",
            role="group",
            **named("What a tap on the plan does"),
        )
    ]
    kinds = {"room": USE_NAMES, "space": SPACE_WORDS}.get(look.tool)
    hint: list[Component] = [html.P(HINTS[look.tool], className="explains")]
    if kinds is not None:
        say = {"what": "kind", "tool": look.tool}
        hint.insert(
            0,
            Pick(
                label="What it is",
                say=say,
                under="kind",
                value=look.kind(look.tool),
                choices=list(map(list, kinds.items())),
            ),
        )
    return [*rows, html.Div(hint, className="hint")]


def _under(seen: Seen, page: Page) -> list[Component]:
    look, levels = seen.look, level_names(page)
    step = "half a foot" if page.system is System.US else "10 cm"
    parts: list[Component] = []
    if len(levels) > 1:
        buttons = [saying(name, "chip", pressed=name == look.level, what="level", level=name) for name in levels]
        parts.append(html.Div(buttons, className="chips", role="group", **named("Storey")))
    follow = switch("A shared wall moves in both rooms", on=look.together, what="together")
    note = f"Grid of {step}. In each room heating above, cooling below. Dashed: other storeys and hidden spaces."
    return [html.Div([*parts, follow], className="chips-row"), html.P(note, className="explains")]


def _mends(seen: Seen) -> Component:
    mends = seen.judged.mends
    if not mends:
        return html.Section(
            [html.H2("Nothing to mend"), html.P("The house can be saved and compared.", className="explains")],
            className="part",
            id="mend",
        )
    rows = []
    for mend in mends[:30]:
        go: dict[str, Any] = {"data-goto": "zip" if path(mend.loc) == "site.zip" else path(mend.loc)}
        hint = [html.Span(f" Did you mean “{mend.suggestion}”?")] if mend.suggestion else []
        rows.append(
            html.Li(
                html.Button([html.B(mend.where), html.Span(mend.words), *hint], className="mend", type="button", **go)
            )
        )
    count = len(mends)
    title = "One thing to mend" if count == 1 else f"{count} things to mend"
    return html.Section([html.H2(title), html.Ul(rows, className="mends")], className="part", id="mend")


def _loads(seen: Seen, system: System) -> Component:
    live = seen.live
    if isinstance(live, Unknown):
        return html.Section([html.H2("Loads"), html.P(live.words, className="explains")], className="part")

    def figure(value_w: float | None) -> str:
        return "…" if value_w is None else power(value_w, system).split("\u00a0")[0]

    unit = power(1000.0, system).split("\u00a0")[1]
    rows: list[tuple[Any, ...]] = [
        (room.name, area(room.area_m2, system).split("\u00a0")[0], figure(room.heat_w), figure(room.cool_w))
        for room in live.rooms
    ]
    rows.append(
        ({"strong": "House"}, area(live.area_m2, system).split("\u00a0")[0], figure(live.heat_w), figure(live.cool_w))
    )
    area_unit = kept(area(1.0, system).split("\u00a0")[1])
    note = f"Design loads in {unit}. Cooling: each room at its own peak, the house together."
    grid = table(("Room", f"Floor, {area_unit}", "Heating", "Cooling"), rows, (1, 2, 3))
    return html.Section([html.H2("Loads, room by room"), html.P(note, className="explains"), grid], className="part")


def _missing(seen: Seen) -> list[Component]:
    found = missing(seen.draft.raw)
    rows = [
        html.Li(
            saying(one.words, "mend", **dict[str, Any](one.say))
            if one.say
            else html.Span(one.words, className="quiet-line")
        )
        for one in found
    ]
    body = (
        html.Ul(rows, className="mends") if rows else html.P("Nothing: this survey is complete.", className="explains")
    )
    line = "None of it stops the comparison; what is taken instead is listed with the results."
    return [
        html.Section(
            [html.H2("Still missing"), html.P(line, className="explains"), body], className="part", id="part-missing"
        )
    ]
