"""On what basis strength is judged: the partial factors on loads and materials."""

from dataclasses import dataclass
from typing import Final, Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """Factors on loads and materials, and the strength they are set against. 1 is no factor."""

    name: Literal["limit states", "ultimate", "no permanent set"]
    on: Literal["yield", "ultimate"]
    gamma_g: float = 1.0
    """On own weight."""
    gamma_q: float = 1.0
    """On what rolls over it."""
    gamma_m0: float = 1.0
    """Steel in bending, shear and bearing."""
    gamma_m1: float = 1.0
    """Steel that may buckle."""
    gamma_m2: float = 1.0
    """Welds, pins in shear, bolts."""
    gamma_timber: float = 1.0
    gamma_a1: float = 1.0
    """Aluminium in bending, shear and buckling."""


LIMIT_STATES: Final = Basis(
    name="limit states",
    on="yield",
    gamma_g=1.35,
    gamma_q=1.5,
    gamma_m0=1.0,
    gamma_m1=1.0,
    gamma_m2=1.25,
    gamma_timber=1.3,
    gamma_a1=1.10,
)
"""Limit states: loads raised, strengths lowered, by the recommended values, which a national annex may
change.

Loads: EN 1990:2002, table A1.2(B), (6.10), 1.35 and 1.5. Steel: EN 1993-1-1, 6.1, gM0 and gM1 = 1.0; EN
1993-1-8, table 2.1, gM2 = 1.25. Timber: EN 1995-1-1, table 2.3, solid timber, 1.3. Aluminium: EN 1999-1-1,
6.1.3, gM1 = 1.10.
"""

ULTIMATE: Final = Basis(name="ultimate", on="ultimate")
"""Loads as they are against ultimate strength: what is left is the overall factor (49 CFR 38.23(c))."""

YIELD: Final = Basis(name="no permanent set", on="yield")
"""Loads as they are against yield: no permanent set (proof loads)."""
