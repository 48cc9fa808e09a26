"""On what basis strength is judged: the partial factors on loads and materials."""

from dataclasses import dataclass
from typing import Final, Literal


@dataclass(frozen=True, slots=True, kw_only=True)
class Basis:
    """Factors on loads and materials, and the strength they are set against.

    EN 1990:2002 table A1.2(B) for loads; EN 1993-1-1, 6.1 and EN 1993-1-8, table 2.1; EN 1995-1-1, table 2.3 (solid timber);
    EN 1999-1-1, table 6.1: recommended values, which a national annex may change.
    """

    name: Literal["limit states", "ultimate", "no permanent set"]
    on: Literal["yield", "ultimate"]
    gamma_g: float = 1.0
    gamma_q: float = 1.0
    gamma_m0: float = 1.0
    gamma_m1: float = 1.0
    gamma_m2: float = 1.0
    gamma_timber: float = 1.0
    gamma_a1: float = 1.0
    gamma_a2: float = 1.0


LIMIT_STATES: Final = Basis(
    name="limit states", on="yield", gamma_g=1.35, gamma_q=1.5, gamma_m0=1.0, gamma_m1=1.0, gamma_m2=1.25, gamma_timber=1.3,
    gamma_a1=1.10, gamma_a2=1.25,
)  # fmt: skip
"""Limit states: loads raised, strengths lowered."""

ULTIMATE: Final = Basis(name="ultimate", on="ultimate")
"""Loads as they are against ultimate strength: what is left is the overall factor (49 CFR 38)."""

YIELD: Final = Basis(name="no permanent set", on="yield")
"""Loads as they are against yield: no permanent set."""
