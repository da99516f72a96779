"""The page's own words in English. Sentences about layouts come from `proposal.words`."""

from __future__ import annotations

from collections.abc import Mapping

from dashboard.session import WhatIf
from proposal.drawing.look import Scene

STOP_WORDS = ("not at all", "a little", "some", "a lot", "most of all")

PRIORITY_LABELS: Mapping[str, str] = {
    "warm_and_even": "Warm in every room",
    "quiet": "Quiet at night",
    "lower_price": "Lower price",
    "lower_bills": "Lower bills",
    "steady_running": "Steady running",
    "few_units_in_sight": "Few units in sight",
}

SWITCH_STATES: Mapping[WhatIf, tuple[str, str]] = {
    WhatIf.DOORS_SHUT: ("Doors shut", "Open"),
    WhatIf.COOL_BEDROOMS: ("Bedrooms cooled", "Not cooled"),
    WhatIf.FEW_IN_SIGHT: ("Where sight counts", "If not"),
    WhatIf.INSULATE_FIRST: ("Insulated first", "As it is"),
}
"""What is the case with a switch on, and with it off: beginnings of sentences."""

SCENES: Mapping[Scene, str] = {
    Scene.MORNING: "Cold morning",
    Scene.EVENING: "Cold evening",
    Scene.AFTERNOON: "Hot afternoon",
    Scene.SOUND: "Sound",
}
SCENES_SHORT: Mapping[Scene, str] = {
    Scene.MORNING: "Cold 6 a.m.",
    Scene.EVENING: "Cold 7 p.m.",
    Scene.AFTERNOON: "Hot day",
    Scene.SOUND: "Sound",
}

DEMO = "demo: all figures invented"
ESTIMATE = "estimate: generic units and prices"
EVENING_LOOK = "Evening look"
DAY_LOOK = "Day look"
PROPOSAL = "Make the proposal"
TO_DESK = "To the desk"
WHAT_IF = "What if…"
MATTERS = "What matters to you"
ASK = "You may ask"
ALSO = "Also worked out"
NOT_BUILT = "Not possible here"
SHOW = "show"
SHOWN = "shown"
WHY_NOT = "Why not this one?"
WHY = "Why this one?"
SIGN_WHY_NOT = "why not?"
SIGN_WHY = "why?"
LEFT_OUT = "Left out"
ROOMS_COLD = "rooms cold"
UNDO = "Undo"
REDO = "Redo"
STOP = "Stop"
TRYING = "Trying it"
FAILED = "That could not be worked out. Nothing was changed."
CLOSE = "Close"
COMPARE = "Compare"
COMPARED = "compared"
SIGN_COMPARE = "compare"
NUMBERS = "Thermostat, power price"
ON_WALL = "See it on your wall"
YES = "Yes"
NO = "No"
