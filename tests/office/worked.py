"""Four jobs worked by hand from the generic cost book, independently of the program's assemblies.

S: one wall head 12. H: shared outdoor 36 with four wall heads. D: ducted low static 18 with four branches. X: wall head
12 and ducted low static 12 with three branches. Left out of the working: survey hours, labour of line covers, service
upgrade, carpentry, pumps, float switches, warranty reserve, call-backs. The second circuit of X takes three quarters of
the hours of the first.
"""

from __future__ import annotations

from decimal import Decimal

ROWS = {
    "unit_pair_wall_head_12": (1, 0, 0, 1),
    "unit_shared_outdoor_36": (0, 1, 0, 0),
    "unit_shared_wall_head_6_12": (0, 4, 0, 0),
    "unit_pair_ducted_low_18": (0, 0, 1, 0),
    "unit_pair_ducted_low_12": (0, 0, 0, 1),
    "material_line_set": (20, 140, 30, 50),
    "material_line_cover": (12, 60, 12, 24),
    "material_circuit": (1, 1, 1, 2),
    "material_surge_protector": (1, 1, 1, 1),
    "material_pad": (1, 1, 1, 2),
    "fee_permit": (1, 1, 1, 1),
    "material_consumables": (1, 1, 1, 1),
    "material_drain": (1, 4, 1, 2),
    "material_wall_sleeve": (1, 4, 0, 1),
    "material_secondary_pan": (0, 0, 1, 1),
    "material_duct_branch": (0, 0, 4, 3),
    "material_trunk_plenum_return_box": (0, 0, 1, 1),
    "material_return_grille_filter": (0, 0, 1, 1),
    "task_mobilise_protect": (1, 1, 1, 1),
    "task_teach_clean_photos": (1, 1, 1, 1),
    "task_permit_inspection": (1, 1, 1, 1),
    "task_outdoor_unit": (1, 1, 1, 2),
    "task_circuit": (1, 1, 1, "1.75"),
    "task_pressure_vacuum_release": (1, 2, 1, 2),
    "task_wall_head": (1, 4, 0, 1),
    "task_ducted_air_handler": (0, 0, 1, 1),
    "task_line_set_beyond_15_ft": ("0.5", 8, "1.5", 2),
    "task_duct_branch": (0, 0, 4, 3),
    "task_trunk_plenum_return": (0, 0, 1, 1),
    "task_balance_commission": (0, 0, 1, 1),
}


def parts(job: str) -> dict[str, Decimal]:
    column = "SHDX".index(job)
    return {row: Decimal(amounts[column]) for row, amounts in ROWS.items()}


# job, case: equipment, materials, person-hours, labour, direct cost, price at 35, 40, 45 % margin; worked by hand
RESULTS = {
    ("S", "LOW"): (850, 563, "13.8", 510, 1923, 2959, 3206, 3497),
    ("S", "MID"): (1200, 972, "17.6", 958, 3130, 4815, 5216, 5690),
    ("S", "HIGH"): (2100, 1728, "21.5", 1769, 5597, 8610, 9328, 10176),
    ("H", "LOW"): (3700, 1490, "28.5", 1058, 6248, 9612, 10413, 11360),
    ("H", "MID"): (5900, 2475, "36.2", 1970, 10345, 15915, 17241, 18808),
    ("H", "HIGH"): (8800, 4080, "44.0", 3619, 16499, 25384, 27499, 29999),
    ("D", "LOW"): (1800, 1163, "33.2", 1234, 4197, 6458, 6996, 7632),
    ("D", "MID"): (2700, 2012, "42.4", 2302, 7014, 10791, 11691, 12754),
    ("D", "HIGH"): (3900, 3608, "51.5", 4236, 11744, 18068, 19574, 21353),
    ("X", "LOW"): (2350, 1476, "40.2", 1494, 5320, 8185, 8867, 9673),
    ("X", "MID"): (3400, 2509, "51.2", 2785, 8694, 13375, 14489, 15807),
    ("X", "HIGH"): (5300, 4416, "62.2", 5121, 14837, 22825, 24728, 26976),
}
