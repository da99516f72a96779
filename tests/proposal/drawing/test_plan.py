"""What the plan says: well-formed, plum only for the recommendation, doors as they stand, figures as in its table."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from compare.units import System
from compare.views.customer import CustomerView
from proposal.drawing.look import Look, Scene
from proposal.drawing.plan import plan_picture, plan_svg, plan_table
from proposal.drawing.theme import DARK, LIGHT, PRINT, Theme
from tests.proposal.sample_view import ranch_view, two_storey_view

SPACE = "{http://www.w3.org/2000/svg}"
VIEW, TWO = ranch_view(), two_storey_view()


def _texts(picture: str) -> list[str]:
    return [element.text or "" for element in ElementTree.fromstring(picture).iter(f"{SPACE}text")]


@pytest.mark.parametrize("scene", list(Scene))
@pytest.mark.parametrize("theme", [LIGHT, DARK, PRINT], ids=lambda theme: theme.name)
@pytest.mark.parametrize("compact", [False, True])
def test_every_picture_is_well_formed_and_told(scene: Scene, theme: Theme, compact: bool) -> None:
    for view in (VIEW, TWO):
        for option in view.options:
            root = ElementTree.fromstring(plan_svg(view, option.id, scene, Look(theme=theme, compact=compact)))
            title, description = root.find(f"{SPACE}title"), root.find(f"{SPACE}desc")
            assert title is not None
            assert title.text
            assert description is not None
            assert description.text
            assert not list(root.iter(f"{SPACE}script"))
            assert not list(root.iter(f"{SPACE}marker"))
            ids = [element.get("id") for element in root.iter() if element.get("id")]
            assert len(ids) == len(set(ids))
            used = set(re.findall(r"url\(#([^)]+)\)", ElementTree.tostring(root, encoding="unicode")))
            assert used <= set(ids)


def test_same_view_same_picture() -> None:
    assert plan_svg(VIEW, "mix") == plan_svg(ranch_view(), "mix")


def test_plum_is_the_recommendation_and_nothing_else() -> None:
    assert LIGHT.plum in plan_svg(VIEW, "mix")
    for option_id in ("heaters", "hidden", "each", "one"):
        assert LIGHT.plum not in plan_svg(VIEW, option_id)
    for option in TWO.options:
        assert LIGHT.plum not in plan_svg(TWO, option.id)


def test_the_small_house_has_no_words_but_keeps_hatches_and_tells_heaters_from_units() -> None:
    small = plan_svg(VIEW, "one", Scene.MORNING, Look(width_px=150.0, compact=True))
    assert _texts(small) == []
    assert small.count("<pattern") == 1
    assert small.count('fill="url(#') == 4
    heaters = plan_svg(VIEW, "heaters", Scene.MORNING, Look(width_px=150.0, compact=True))
    hollow = re.findall(rf'<rect [^>]*fill="{LIGHT.card}"[^>]*stroke="{LIGHT.ink}"', heaters)
    assert len(hollow) == 3


def test_figures_on_the_plan_are_those_of_the_table() -> None:
    picture = plan_picture(VIEW, "one", Scene.MORNING, Look())
    shown = " ".join(label.text for label in picture.labels)
    for room, value, _, word in plan_table(VIEW, "one").rows:
        label = next(text for text in (label.text for label in picture.labels) if text.startswith(room))
        assert value.replace("\u00a0°F", "°") in label
        assert word == "none" or word in label
    assert "48°" in shown


def test_celsius_shows_tenths() -> None:
    table = plan_table(VIEW, "one", Scene.MORNING, Look(units=System.SI))
    assert ("Bedroom 3", "8.9\u00a0°C", "18.9\u00a0°C", "very cold") in table.rows


def test_sound_is_told_with_its_advice_and_louder_rooms_are_hatched() -> None:
    """WHO Guidelines for Community Noise 1999: 30 dB(A) in bedrooms at night, 35 dB(A) in living rooms."""
    loud = plan_svg(VIEW, "hidden", Scene.SOUND)
    assert "louder than advised" in _texts(loud)
    assert any("30 dB(A) in bed" in text for text in _texts(loud))
    quiet = plan_picture(VIEW, "each", Scene.SOUND, Look())
    assert all("louder" not in label.text for label in quiet.labels)


def _leaf_ends(view: CustomerView) -> set[tuple[float, float, float, float]]:
    """Solid leaves, with the door between Hall and Bedroom 1 singled out by its hinge."""
    root = ElementTree.fromstring(plan_svg(view, "one"))
    return {
        tuple(float(line.get(key, "nan")) for key in ("x1", "y1", "x2", "y2"))
        for line in root.iter(f"{SPACE}line")
        if line.get("stroke") == LIGHT.wall and line.get("stroke-width") not in {None, "1"}
    }


def test_a_door_is_solid_where_it_stands_at_night() -> None:
    """Opening Bedroom 1 at night turns its leaf by a right angle about the same hinge."""
    doors = tuple(
        door.model_copy(update={"open_by_night": True}) if door.rooms == (2, 6) else door for door in VIEW.plan.doors
    )
    opened = VIEW.model_copy(update={"plan": VIEW.plan.model_copy(update={"doors": doors})})
    shut, wide = _leaf_ends(VIEW) - _leaf_ends(opened), _leaf_ends(opened) - _leaf_ends(VIEW)
    assert len(shut) == len(wide) == 1
    (ax, ay, bx, by), (cx, cy, dx, dy) = shut.pop(), wide.pop()
    assert (ax, ay) == (cx, cy)
    assert (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) == pytest.approx(0.0, abs=0.5)
    assert (bx - ax) ** 2 + (by - ay) ** 2 == pytest.approx((dx - cx) ** 2 + (dy - cy) ** 2, rel=0.01)


def test_names_from_outside_never_become_markup() -> None:
    hostile = '<script>alert("1")</script>&amp;'
    rooms = tuple(room.model_copy(update={"name": hostile}) for room in VIEW.plan.rooms)
    house = VIEW.house.model_copy(update={"name": hostile})
    view = VIEW.model_copy(update={"plan": VIEW.plan.model_copy(update={"rooms": rooms}), "house": house})
    root = ElementTree.fromstring(plan_svg(view, "mix"))
    assert not list(root.iter(f"{SPACE}script"))
    assert any(hostile in (element.text or "") for element in root.iter())


def test_heaters_rest_on_a_hot_afternoon() -> None:
    winter = plan_svg(VIEW, "heaters", Scene.MORNING, Look(legend=False))
    summer = plan_svg(VIEW, "heaters", Scene.AFTERNOON, Look(legend=False))
    assert winter.count('stroke-width="1" fill="none" stroke-linecap="round"') == 3
    assert summer.count('stroke-width="1" fill="none" stroke-linecap="round"') == 0


def test_another_language_replaces_words_and_falls_back_to_english() -> None:
    words = {"very_cold": "muy frío"}
    texts = _texts(plan_svg(VIEW, "one", Scene.MORNING, Look(words=words)))
    assert "muy frío" in texts
    assert "very cold" not in texts
    assert "cold" in texts


def test_an_unknown_option_is_named() -> None:
    with pytest.raises(KeyError, match="nothing"):
        plan_svg(VIEW, "nothing")


def test_a_wall_unit_hangs_flat_on_its_wall_while_its_air_goes_aside() -> None:
    option = VIEW.option("one")
    aimed = option.drawing.units[0].model_copy(update={"blows_deg": 230.0})
    drawing = option.drawing.model_copy(update={"units": (aimed,)})
    view = VIEW.model_copy(update={"options": (option.model_copy(update={"drawing": drawing}),)})
    root = ElementTree.fromstring(plan_svg(view, "one"))
    turns = {}
    for group in root.iter(f"{SPACE}g"):
        turn = re.search(r"rotate\(([-\d.]+)\)", group.get("transform", ""))
        if turn and group.find(f"{SPACE}path") is not None and group.find(f"{SPACE}path").get("stroke-dasharray"):
            turns["air"] = float(turn[1]) % 360.0
        elif turn and group.find(f"{SPACE}rect") is not None and group.find(f"{SPACE}rect").get("fill") == LIGHT.ink:
            turns["unit"] = float(turn[1]) % 360.0
    # Blowing to the west (270 deg true) turns the symbol, drawn blowing down, by a quarter: 90 deg clockwise.
    assert turns["unit"] == pytest.approx(90.0)
    assert turns["air"] == pytest.approx(90.0 - (270.0 - 230.0))
