"""What a paper holds besides the customer's view: outside walls, and bedrooms with their doors either way."""

from __future__ import annotations

import re
from dataclasses import replace

from compare.doors_at_night import doors_both_ways
from compare.pipeline import Comparison
from compare.scoring.weights import weights_from_priorities
from compare.turning_points import QUICK, quick_flips
from compare.views.customer import CustomerView
from compare.views.customer_build import flip_line
from compare.views.designer import DesignerView, Elevation
from compare.views.designer_build import designer_view
from proposal.company import Company
from proposal.document.blocks import Document, Figure
from proposal.document.build import Extras, build
from proposal.document.charts import doors_asked
from proposal.document.outside import Outside
from proposal.document.pictures import PAGE_PX, picture_of
from proposal.drawing.elevation import elevations_picture
from proposal.drawing.words import ENGLISH
from proposal.words import Told, equals, told_of

MOST_LAYOUTS = 2
"""Of several equal layouts so many are drawn from outside, one wall each; of a single one two walls."""
TITLE_PX = 34.0
"""Height of the title inside the picture: the paper has a heading there."""
_BOX = re.compile(r'viewBox="0 0 ([0-9.]+) ([0-9.]+)" width="[0-9.]+" height="[0-9.]+"')


def subjects_of(told: Told, option_id: str | None) -> tuple[str, ...]:
    """Ids of the layouts that a paper is about: the one asked for, else the advice, else the first equal ones."""
    if option_id is not None:
        return (option_id,)
    return tuple(option.id for option in equals(told.view)[:MOST_LAYOUTS])


def paper_of(
    found: Comparison,
    view: CustomerView,
    option_id: str | None = None,
    language: str = "en",
    company: Company | None = None,
) -> Document:
    """The whole paper of a comparison: what the view says, doors either way, outside walls.

    Raises
    ------
    ValueError
        Where nothing can be proposed.
    """
    seen = with_flips(found, with_doors(found, view, option_id))
    return build(seen, option_id, language, Extras(company, outside_of(found, told_of(seen, language), option_id)))


def with_doors(found: Comparison, view: CustomerView, option_id: str | None = None) -> CustomerView:
    """The view with its bedrooms for the doors shut and open; a run or two of the year, some tenths of a second.

    A layout that the view does not have is left to the paper to name.
    """
    told = told_of(view)
    known = {option.id: option for option in view.options}
    options = tuple(known[item] for item in subjects_of(told, option_id) if item in known)
    return view.model_copy(update={"doors": doors_both_ways(found, doors_asked(told, options))})


def with_flips(found: Comparison, view: CustomerView) -> CustomerView:
    """The view with what would change its answer: as it was found before, else the changes that need no simulation."""
    if not view.answer.winner:
        return view
    chosen = weights_from_priorities(dict(view.priorities))
    flips = view.flips or tuple(flip_line(flip) for flip in quick_flips(found, chosen))
    return view.model_copy(update={"flips": flips, "flips_tried": QUICK})


def outside_of(found: Comparison, told: Told, option_id: str | None = None) -> tuple[Outside, ...]:
    """Outside walls of the layouts that a paper is about."""
    from proposal.sheets.make import desk_of

    ids = [item for item in subjects_of(told, option_id) if item in found.by_id]
    designs = {item: designer_view(desk_of(found), found.by_id[item].option) for item in ids}
    return outside_from(designs, told)


def outside_from(designs: dict[str, DesignerView], told: Told) -> tuple[Outside, ...]:
    """The walls that carry most: two of a single layout, one of each of several."""
    most = 1 if len(designs) > 1 else 2
    shown = (Outside(item, _walls(item, design, told, most)) for item, design in designs.items())
    return tuple(one for one in shown if one.walls)


def _walls(option_id: str, design: DesignerView, told: Told, most: int) -> tuple[Figure, ...]:
    ordered = sorted(design.elevations, key=lambda wall: -len(wall.items))[:most]
    kept = [wall for wall in design.elevations if wall in ordered]
    return tuple(_wall(f"outside-{option_id}-{number}", design, wall, told) for number, wall in enumerate(kept, 1))


def _wall(stem: str, design: DesignerView, wall: Elevation, told: Told) -> Figure:
    """One wall across the page, without the title that its picture has when it stands alone."""
    words = told.words.tables.get("pictures") or ENGLISH
    drawn = elevations_picture(design.model_copy(update={"elevations": (wall,)}), PAGE_PX, words)
    figure = picture_of(stem, drawn.svg, told.words.say("more", "walls_alt"))
    high = figure.height_px - TITLE_PX
    box = f'viewBox="0 {TITLE_PX:g} {figure.width_px:g} {high:g}" width="{figure.width_px:g}" height="{high:g}"'
    return replace(figure, svg=_BOX.sub(box, figure.svg, count=1), height_px=high)
