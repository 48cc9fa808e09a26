"""What a proposal is to be like: what matters most, and what the shop that makes it can do."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Switch

Towards = Literal["light", "gentle", "cheap", "quick"]
Welded = Literal["steel", "aluminium", "both"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wishes:
    """What is wished of a ramp that is yet to be proposed; nothing of it is judged."""

    first: Annotated[
        Towards,
        Choice(
            label="Matters most",
            options=(
                ("light", "light to fold"),
                ("gentle", "gentle slope"),
                ("cheap", "little stock to buy"),
                ("quick", "few pieces to make"),
            ),
            help="Which proposal comes first.",
        ),
    ] = "light"
    gentler_than: Annotated[
        float,
        Dim(
            label="Gentler than 1 :",
            unit="",
            low=0,
            high=40,
            step=0.5,
            help="Steepest slope wished for, level length over height; 0 for what the rule sets ask.",
        ),
    ] = 0.0
    welds: Annotated[
        Welded,
        Choice(
            label="Shop welds",
            options=(("steel", "steel"), ("aluminium", "aluminium"), ("both", "steel and aluminium")),
            help="Rails, cross members and knuckles are welded together: what they can be made of.",
        ),
    ] = "steel"
    lathe: Annotated[
        bool,
        Switch(
            label="Lathe at hand",
            help="Without one, holes of knuckles are drilled, and pins are no thicker than a drill's chuck.",
        ),
    ] = True
    buys: Annotated[
        bool,
        Switch(
            label="Sections may be bought",
            help="Also sections that are commonly sold; else only those that stand among the stock.",
        ),
    ] = True
    steel_price: Annotated[
        float,
        Dim(
            label="Price of a kg of steel",
            unit="",
            low=0,
            high=1000,
            step=0.1,
            help="In any money; for comparing costs.",
        ),
    ] = 2.5
    aluminium_price: Annotated[
        float,
        Dim(
            label="Price of a kg of aluminium",
            unit="",
            low=0,
            high=1000,
            step=0.1,
            help="In any money; for comparing costs.",
        ),
    ] = 8.0
    timber_price: Annotated[
        float,
        Dim(
            label="Price of a kg of timber",
            unit="",
            low=0,
            high=1000,
            step=0.1,
            help="In any money; for comparing costs.",
        ),
    ] = 3.0


NO_WISHES = Wishes()
"""What a design that says nothing of its wishes has; prices by common practice, in whatever money."""
