"""What a material needs to tell before heat can be reckoned with."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, slots=True)
class Substance:
    """Thermal properties, taken as constant: conductivity, density and specific heat."""

    k_w_mk: float
    rho_kg_m3: float
    c_j_kgk: float

    @property
    def diffusivity_m2_s(self) -> float:
        """Thermal diffusivity k / (rho c), m2/s."""
        return self.k_w_mk / (self.rho_kg_m3 * self.c_j_kgk)

    @property
    def effusivity_w_s05_m2k(self) -> float:
        """Thermal effusivity sqrt(k rho c), W s^0.5 / (m2 K): the weight of a body in a contact temperature."""
        return math.sqrt(self.k_w_mk * self.rho_kg_m3 * self.c_j_kgk)


STAINLESS = Substance(k_w_mk=16.2, rho_kg_m3=8000.0, c_j_kgk=500.0)
"""Austenitic stainless steel, type 304. Handbook values from memory; EN 12524:2000 has 17, 7900 and 460."""

ALUMINIUM_6061 = Substance(k_w_mk=167.0, rho_kg_m3=2700.0, c_j_kgk=896.0)
"""Aluminium alloy 6061-T6, typical values of the Aluminum Association as repeated on suppliers' data sheets."""

SOFT_PLASTISOL = Substance(k_w_mk=0.16, rho_kg_m3=1050.0, c_j_kgk=1800.0)
"""Starting value for a very soft plastisol (60 % plasticiser and more): an estimate by the rule of mixtures.

Published neighbours: flexible PVC 0.14, 1200, 1000 (EN 12524:2000); PVC 0.167, 1160 to 1550, 1674 (CRC Handbook).
"""


def contact_c(*, one: Substance, one_c: float, other: Substance, other_c: float) -> float:
    """Temperature of the face where two thick bodies at one temperature each have just been put together, degC.

    Weighted by effusivity: Carslaw & Jaeger, Conduction of Heat in Solids; Cengel & Ghajar, Heat and Mass
    Transfer, section 4-3. Skin at 35 degC on aluminium at 15 degC: 15.9 degC.
    """
    weight = one.effusivity_w_s05_m2k
    other_weight = other.effusivity_w_s05_m2k
    return (weight * one_c + other_weight * other_c) / (weight + other_weight)
