"""The jets of each kind of unit and outlet, at an airflow and an output."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from compare.air.draught.jet import Jet
from compare.air.tables import constant, require_positive, row

CEILING_GAP_M = 0.05


@dataclass(frozen=True, slots=True)
class AirOutlet:
    """An outlet of a kind of the `jets` table; registers give `face_m2`, room units `cabinet_w_m`."""

    kind: str
    cabinet_w_m: float = 0.0
    face_m2: float = 0.0
    face_w_m: float = 0.0

    @property
    def streams(self) -> int:
        """Streams into which the air parts (four for a cassette)."""
        return int(row("jets", "kind", self.kind)["streams"])

    @property
    def radial(self) -> bool:
        """Whether it blows to all sides."""
        return row("jets", "kind", self.kind)["radial"] == "1"

    def width_m(self) -> float:
        """Free width of one stream."""
        entry = row("jets", "kind", self.kind)
        if float(entry["width_frac"]) > 0:
            require_positive(self.cabinet_w_m, "cabinet_w_m", "m")
            return float(entry["width_frac"]) * self.cabinet_w_m
        require_positive(self.face_w_m, "face_w_m", "m")
        return self.face_w_m

    def area_m2(self) -> float:
        """Free area of one stream."""
        entry = row("jets", "kind", self.kind)
        if float(entry["slot_m"]) > 0:
            return float(entry["slot_m"]) * self.width_m()
        require_positive(self.face_m2, "face_m2", "m2")
        return constant("register_free_frac") * self.face_m2


def supply_shift_k(output_w: float, flow_m3_s: float) -> float:
    """Supply less room temperature for a sensible output (positive heats) at an airflow."""
    require_positive(flow_m3_s, "flow_m3_s", "m3/s")
    return output_w / (constant("air_density_kg_m3") * constant("air_heat_j_kgk") * flow_m3_s)


@lru_cache(maxsize=8192)
def jet_of(outlet: AirOutlet, flow_m3_s: float, output_w: float, ceiling_m: float) -> Jet:
    """One stream of an outlet; `output_w` is sensible, negative when it cools. The louver follows the mode."""
    entry = row("jets", "kind", outlet.kind)
    mode = "heat" if output_w > 0 else "cool"
    height = min(float(entry[f"height_{mode}_m"]), ceiling_m - CEILING_GAP_M)
    return Jet(
        flow_m3_s=flow_m3_s / outlet.streams,
        area_m2=outlet.area_m2(),
        width_m=outlet.width_m(),
        throw_k=float(entry["throw_k"]),
        height_m=height,
        delta_k=supply_shift_k(output_w, flow_m3_s),
        aim_deg=float(entry[f"aim_{mode}_deg"]),
        half_spread_deg=float(entry["half_spread_deg"]),
        radial=outlet.radial,
    )
