"""Whether a core welds to its shell, and how long the shell may lie out before it does not.

Heat is one of two causes of peeling; oil left in the bore is the other, and no figure here sees it.
"""

from __future__ import annotations

import math

from bench.errors import BenchError
from bench.physics.substance import Substance, contact_c

BOND_C = 90.0
"""Starting value: contact temperature below which peeling is to be feared. To be corrected at the bench."""

AIR_FILM_W_M2K = 10.0
"""Starting value for a warm bait in still air: convection and radiation together."""


def joint_c(plastic: Substance, *, core_c: float, shell_c: float) -> float:
    """Contact temperature of core and shell, degC: the mean of both, as they are of the same plastic."""
    return contact_c(one=plastic, one_c=core_c, other=plastic, other_c=shell_c)


def coldest_shell_c(*, core_c: float, bond_c: float = BOND_C) -> float:
    """Temperature of the shell that still brings the joint to ``bond_c``, degC."""
    return 2 * bond_c - core_c


def shell_in_air_c(
    plastic: Substance,
    *,
    body_mm: float,
    bore_mm: float,
    start_c: float,
    seconds: float,
    room_c: float,
    film_w_m2k: float = AIR_FILM_W_M2K,
) -> float:
    """Mean temperature of a shell that has lain in air for a time, degC."""
    relaxation_s = _relaxation_s(plastic, body_mm=body_mm, bore_mm=bore_mm, film_w_m2k=film_w_m2k)
    return room_c + (start_c - room_c) * math.exp(-seconds / relaxation_s)


def bonds_for_s(
    plastic: Substance,
    *,
    body_mm: float,
    bore_mm: float,
    start_c: float,
    core_c: float,
    room_c: float,
    bond_c: float = BOND_C,
    film_w_m2k: float = AIR_FILM_W_M2K,
) -> float | None:
    """How long a shell may lie in air until a core at ``core_c`` no longer brings the joint to ``bond_c``, s.

    0 when it is too cold already, None when even a shell as cold as the room is warm enough.
    """
    least_c = coldest_shell_c(core_c=core_c, bond_c=bond_c)
    if least_c <= min(room_c, start_c):
        return None
    if start_c <= least_c:
        return 0.0
    relaxation_s = _relaxation_s(plastic, body_mm=body_mm, bore_mm=bore_mm, film_w_m2k=film_w_m2k)
    return relaxation_s * math.log((start_c - room_c) / (least_c - room_c))


def _relaxation_s(plastic: Substance, *, body_mm: float, bore_mm: float, film_w_m2k: float) -> float:
    """Heat held over heat lost by the outer face: the still air in the bore takes nothing.

    A third of the wall adds to the film: the first root of lambda tan lambda = Bi is close to Bi / (1 + Bi / 3).
    """
    if bore_mm >= body_mm:
        raise BenchError(f"a rod of {bore_mm:g} mm leaves no wall in a body of {body_mm:g} mm")
    wall_m = 1e-3 * (body_mm - bore_mm) / 2
    lost_w_m2k = 1 / (1 / film_w_m2k + wall_m / (3 * plastic.k_w_mk))
    depth_m = 1e-3 * (body_mm**2 - bore_mm**2) / (4 * body_mm)
    return plastic.rho_kg_m3 * plastic.c_j_kgk * depth_m / lost_w_m2k
