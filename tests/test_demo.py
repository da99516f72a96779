"""The bundled demo house is the ranch of the scenarios, letter by letter."""

from __future__ import annotations

from pathlib import Path

from compare.demo import demo_house, demo_text


def test_demo_house_equals_its_twin(scenarios: Path) -> None:
    assert demo_text() == (scenarios / "ranch.toml").read_text(encoding="utf-8")


def test_demo_house_reads() -> None:
    assert "invented" in demo_house().house.name
