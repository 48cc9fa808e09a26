"""Bolts and screws, by name."""

from typing import Literal

BoltSize = Literal["M5", "M6", "M8", "M10", "M12", "M16"]
BoltClass = Literal["4.6", "5.6", "8.8", "10.9"]
