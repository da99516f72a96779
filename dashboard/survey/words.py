"""Labels of the fields, in the words of the trade and of the page, and the words for what can be chosen."""

from __future__ import annotations

LABELS: dict[str, dict[str, str]] = {
    "": {
        "name": "Name", "room": "Room", "level": "Storey", "use": "Used as", "at": "Place", "size": "Size",
        "height": "Height", "width": "Width", "area": "Area", "count": "How many", "wall": "Wall", "side": "Wall",
        "notes": "Notes", "kind": "Kind", "above": "Above it", "below": "Below it", "regular": "Used every day",
        "between": "Joins", "undercut": "Gap under it", "day": "By day", "night": "At night", "u": "U-value",
        "shgc": "Sun let in (SHGC)", "shade": "Sun left by inside shade", "overhang": "Overhang, depth",
        "overhang_above": "Overhang, above the window", "beyond": "Behind it", "sleepers": "Sleepers",
        "target": "Own temperature", "use_hours": "Hours of use", "outline": "Corners", "fuel": "Fuel",
        "efficiency": "Efficiency", "price": "Price of a unit of fuel", "rooms": "Rooms it warms", "keep": "It stays",
        "throws": "Blows toward", "outside_wall": "On an outside wall", "clear": "Clear size", "serves": "Reaches",
        "service": "Serviced from", "drain_fall": "Fall for the drain", "inside": "Inside the insulation",
        "property_line": "To the property line", "bedroom_window": "To the nearest bedroom window",
        "units": "Units side by side", "lower": "From", "upper": "Up to",
        "from": "From", "to": "Up to, not with", "amount": "Units used", "cost": "Cost",
        "mean": "Mean outdoors, if printed",
    },
    "house": {
        "name": "Name of the house", "built": "Year built", "plan_north": "Top of the plan points to",
        "people": "People", "notes": "Notes",
    },
    "site": {
        "place": "Place", "zip": "ZIP code", "latitude": "Latitude", "longitude": "Longitude",
        "elevation": "Height above the sea", "shelter": "Shelter from wind", "weather": "Weather year",
        "heating_99": "Coldest nights (99 %)", "cooling_1": "Hot days (1 %)", "cooling_wet_bulb": "Wet bulb with it",
        "daily_range": "Day to night swing", "source": "Where these come from", "hdd18": "Heating degree days",
        "cdd10": "Cooling degree days",
    },
    "fabric": {
        "age": "Built or rebuilt", "wall_u": "Walls, U", "ceiling_u": "Ceiling under attic, U", "roof_u": "Roof, U",
        "floor_u": "Floor, U", "slab_edge": "Slab edge loss", "window_u": "Windows, U", "window_shgc": "Windows, SHGC",
        "door_u": "Outside doors, U", "partition_u": "Inside walls, U", "inside_floor_u": "Inside floors, U",
        "wall_type": "Walls are", "roof_absorptance": "Roof, sun taken in", "wall_absorptance": "Walls, sun taken in",
    },
    "air": {
        "class": "How tight", "ach50": "Blower door, air changes at 50 Pa", "ventilation": "Fresh air by fan",
        "ventilation_kind": "Kind of fan", "heat_recovery": "Heat recovered",
    },
    "comfort": {
        "heating": "Winter, living rooms", "cooling": "Summer", "sleep": "Bedrooms at night", "work": "Office by day",
        "wash": "Bath",
    },
    "panel": {"service_amps": "Service, amps", "free_spaces": "Free spaces"},
    "rates": {
        "electricity": "Power, a kWh", "gas": "Gas, a therm", "oil": "Oil, a gallon", "propane": "Propane, a gallon",
        "wood": "Wood, a cord", "carbon": "Carbon of a kWh",
    },
    "priorities": {
        "warm_and_even": "Warm in every room", "quiet": "Quiet at night", "lower_price": "Lower price",
        "lower_bills": "Lower bills", "steady_running": "Steady running", "few_units_in_sight": "Few units in sight",
    },
    "level": {"name": "Storey", "height": "Ceiling height", "below": "Below it", "above": "Above it"},
    "door": {"room": "Room"},
}  # fmt: skip


def label_of(table: str, key: str) -> str:
    """The label of a field."""
    return LABELS.get(table, {}).get(key) or LABELS[""].get(key) or key.replace("_", " ").capitalize()
