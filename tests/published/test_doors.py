"""Doorway exchange, shut doors and the closed room against published laws."""

import numpy as np
import pytest

from compare.house.plan import Link, LinkKind
from compare.physics.doors import (
    door_conductance_w_k,
    exchange_flow_m3_s,
    open_coefficient_w_k15,
    undercut_flow_m3_s,
)
from compare.physics.network import Network
from compare.physics.room import HELD_C
from compare.physics.steady import steady_state_c

# Brown and Solvason 1962, eq. 6 (as used in the open Modelica Buildings library, model of an open door): heat and
# flow each way through 0.81 x 2.03 m at 294 K, density 1.2 kg/m3, 1006 J/kgK; 1 %.
WIDTH_M, HEIGHT_M = 0.81, 2.03
DIFFERENCES_K = [0.5, 1, 2, 3, 5]
HEAT_W = {0.50: [30, 86, 244, 447, 963], 0.65: [40, 112, 317, 582, 1251], 0.40: [24, 69, 195, 358, 770]}
FLOW_L_S = {0.50: [50, 71, 101, 124, 159], 0.65: [66, 93, 131, 161, 207]}


@pytest.mark.parametrize("index", range(5), ids=[f"{k} K" for k in DIFFERENCES_K])
@pytest.mark.parametrize("discharge", [0.40, 0.50, 0.65])
def test_doorway_heat(discharge, index):
    difference_k = DIFFERENCES_K[index]
    heat_w = door_conductance_w_k(WIDTH_M, HEIGHT_M, difference_k, discharge) * difference_k
    printed_w = HEAT_W[discharge][index]
    assert heat_w == pytest.approx(printed_w, abs=0.01 * printed_w + 0.5)  # given to whole watts


@pytest.mark.parametrize("index", range(5), ids=[f"{k} K" for k in DIFFERENCES_K])
@pytest.mark.parametrize("discharge", [0.50, 0.65])
def test_doorway_flow(discharge, index):
    flow_m3_s = exchange_flow_m3_s(WIDTH_M, HEIGHT_M, DIFFERENCES_K[index], discharge)
    assert float(flow_m3_s) * 1000.0 == pytest.approx(FLOW_L_S[discharge][index], rel=0.01)


def test_doorway_heat_exponent():
    # Same law: heat goes with the 1.5th power of the temperature difference; 0.01.
    heat_w = [door_conductance_w_k(WIDTH_M, HEIGHT_M, k, 0.65) * k for k in (0.5, 5.0)]
    assert np.log(heat_w[1] / heat_w[0]) / np.log(10.0) == pytest.approx(1.5, abs=0.01)
    assert open_coefficient_w_k15(WIDTH_M, HEIGHT_M, 0.65) == pytest.approx(112.0, rel=0.01)


def test_undercut_flow():
    # Field rule for tight houses: a half-inch undercut passes about 80 cfm at 3 Pa, jamb and other leaks included
    # (building practice article on door undercuts); 25 %. 1 cfm = 0.000471947 m3/s.
    door = Link(LinkKind.DOOR, 0, 1, width_m=0.762, height_m=2.032, undercut_m=0.0127)
    assert undercut_flow_m3_s(door, 3.0) / 0.000471947 == pytest.approx(80.0, rel=0.25)


# Steady closed-room law: Tmain - Troom = (UAext (Tmain - Tout) - G) / (UAext + UApart + 1.2 Q), from a heat balance of
# the room; 21 degC inside, -10 degC outside; 0.1 K. UAext W/K, UApart W/K, transfer air L/s, gain W, difference K.
CLOSED_ROOM = [(12, 50, 0, 0, 6.0), (12, 50, 6, 0, 5.4), (8, 70, 0, 0, 3.2), (18, 35, 0, 0, 10.5), (12, 50, 0, 70, 4.9)]


@pytest.mark.parametrize(("fabric_w_k", "partition_w_k", "litres_s", "gain_w", "difference_k"), CLOSED_ROOM)
def test_closed_room(fabric_w_k, partition_w_k, litres_s, gain_w, difference_k):
    outdoor_c, main_c = -10.0, 21.0
    link = partition_w_k + 1.2 * litres_s
    network = Network(
        room_names=("main", "closed"),
        g0_w_k=np.array([100.0, 0.6 * fabric_w_k]),
        branch_g_w_k=np.array([[30.0, 200.0], [30.0, 100.0]]),
        branch_tau_s=np.full((2, 2), 7200.0),
        air_j_k=np.full(2, 1e5),
        q20_w=np.array([[100.0, 0.6 * fabric_w_k]]) * (outdoor_c - HELD_C),
        link_w_k=np.array([[[0.0, link], [link, 0.0]]]),
        leak_w_k=np.array([[20.0, 0.4 * fabric_w_k]]),
        door_state=np.zeros(1, dtype=np.int64),
        leak_level=np.zeros(1, dtype=np.int64),
        outdoor_c=np.array([outdoor_c]),
    )
    room_c = steady_state_c(network, 0, held_c={0: main_c}, gain_w=np.array([0.0, gain_w]))
    assert main_c - room_c[1] == pytest.approx(difference_k, abs=0.1)
