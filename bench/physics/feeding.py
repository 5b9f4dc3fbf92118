"""What shrinks while the plastic cools: what the open gate can feed, and what is left to show as dents."""

from __future__ import annotations


def top_off_ml(*, volume_ml: float, beta_per_k: float, shot_c: float, mean_hold_c: float) -> float:
    """Volume to feed while the gate is open, ml: V beta (T_shot - T_mean at the end of the hold).

    ``beta_per_k`` is the volumetric expansion, three times the linear one. 0 when nothing has cooled.
    """
    return max(0.0, volume_ml * beta_per_k * (shot_c - mean_hold_c))


def shrink_left_share(*, beta_per_k: float, mean_hold_c: float, room_c: float) -> float:
    """Share of the volume that still shrinks after the gate has closed, as sinks, dents or a smaller bait."""
    return max(0.0, beta_per_k * (mean_hold_c - room_c))


def density_kg_m3(*, rho_20_kg_m3: float, beta_per_k: float, at_c: float) -> float:
    """Density at a temperature from the one at 20 degC: the same mass in a volume grown by beta."""
    return rho_20_kg_m3 / (1 + beta_per_k * (at_c - 20.0))


def cavity_mass_g(*, volume_ml: float, rho_20_kg_m3: float, beta_per_k: float, mean_hold_c: float) -> float:
    """Mass that the cavity holds once the gate has closed: its volume at the density of that moment, g."""
    return volume_ml * 1e-3 * density_kg_m3(rho_20_kg_m3=rho_20_kg_m3, beta_per_k=beta_per_k, at_c=mean_hold_c)
