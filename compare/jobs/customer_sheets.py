"""What a customer may take away as tables: the options, their rooms, and the scope of the chosen one."""

from __future__ import annotations

from compare.jobs.sheets import Cell, Sheet
from compare.prices.items import items
from compare.prices.quantity import Quantities
from compare.views.customer import CustomerView, OptionCard


def plain_name(card: OptionCard) -> str:
    """What an option is, from its card: units, places, rooms."""
    parts = []
    if card.head_rooms:
        count = "room unit" if len(card.head_rooms) == 1 else f"{len(card.head_rooms)} room units"
        parts.append(f"{count} ({', '.join(card.head_rooms)})")
    if card.ducted_rooms:
        parts.append(f"concealed ducted unit, {', '.join(card.places)} ({', '.join(card.ducted_rooms)})")
    if card.heater_rooms:
        parts.append(f"room heaters ({', '.join(card.heater_rooms)})")
    if card.old_heat:
        parts.append("old heat kept")
    outdoor = card.facts.outdoor_units
    tail = ", shared" if card.shared_outdoor else ""
    return f"{' + '.join(parts)}; {outdoor} outdoor unit{'s' if outdoor != 1 else ''}{tail}"


def options_sheet(view: CustomerView) -> Sheet:
    """One row per option that the customer sees."""
    return Sheet.of("options", [_option(card) for card in view.options])


def _option(card: OptionCard) -> dict[str, Cell]:
    facts = card.facts
    row: dict[str, Cell] = {"option": card.id, "layout": plain_name(card), "status": card.status, "total": card.total}
    row |= {f"score {name}": value for name, value in card.criteria.items()}
    return row | {
        "price low, USD": facts.price_low_usd,
        "price, USD": facts.price_usd,
        "price high, USD": facts.price_high_usd,
        "electricity, kWh/y": facts.electricity_kwh,
        "bill, USD/y": facts.bill_usd,
        "outdoor units": facts.outdoor_units,
        "units in sight": facts.visible_units,
        "starts of the busiest unit, 1/y": facts.starts_per_year,
        "left out because": "; ".join(fault.text for fault in card.faults if fault.fatal),
    }


def rooms_sheet(view: CustomerView) -> Sheet:
    """One row per room of each option."""
    names = {room.index: room.name for room in view.plan.rooms}
    columns = ("option", "room", "heat from", "6 a.m. on cold mornings, C", "target, C", "hot afternoon, C", "bed, dBA")
    rows = [
        (card.id, names[r.room], r.source, r.morning_c, r.morning_target_c, r.hot_c, r.bed_dba)
        for card in view.options
        for r in card.rooms
    ]
    return Sheet("rooms", columns, tuple(rows))


def scope_sheet(quantities: Quantities) -> Sheet:
    """Quantities of the chosen option with the drawing item of each; no price stands beside them."""
    columns = ("item", "amount", "unit", "for")
    rows = tuple((items()[q.item].label, q.amount, q.unit, q.note) for q in quantities)
    return Sheet("scope", columns, rows)
