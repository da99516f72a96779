"""The fabric of a room: full surfaces once, then a steady conductance and two mass branches for the year kernel."""

from compare.physics.fabric.drivers import Drivers, Face, FaceSun, faces_of
from compare.physics.fabric.forcing import Gains
from compare.physics.fabric.parts import FabricOptions, design_options, house_options, inside_masses
from compare.physics.fabric.room import drive_room, held_heat_by_part_w, held_heat_w, prepare_room, room_fabric

__all__ = [
    "Drivers",
    "FabricOptions",
    "Face",
    "FaceSun",
    "Gains",
    "design_options",
    "drive_room",
    "faces_of",
    "held_heat_by_part_w",
    "held_heat_w",
    "house_options",
    "inside_masses",
    "prepare_room",
    "room_fabric",
]
