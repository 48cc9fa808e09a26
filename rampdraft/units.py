"""Unit aliases for signatures, and exact factors.

Inside the program: mm, N, kg, MPa (N/mm2), radians in computation, degrees in documents and on screen.
"""

MM = float
MM2 = float
MM3 = float
MM4 = float
KG = float
N = float
MPA = float
RAD = float
DEG = float

G_M_S2 = 9.80665
"""Standard gravity, exact (3rd CGPM, 1901)."""

MM_PER_INCH = 25.4
"""Exact (international inch, 1959)."""

KG_PER_POUND = 0.45359237
"""Exact (international pound, 1959)."""
