"""What the carrier stands on: springs, bearers and jacks that push and do not pull, and the weights above
them.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.units import DEG, KG, MM

SupportKind = Literal["spring", "bearer", "jack"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """One support of the carrier's deck. It pushes up and never pulls, but for the wheel and axle that hang
    on a spring.
    """

    name: Annotated[
        str, Words(label="Name", help="What the support is called: left wheel, jack.", longest=40)
    ]
    kind: Annotated[
        SupportKind,
        Choice(
            label="Support",
            options=(
                ("spring", "spring of a wheel or axle"),
                ("bearer", "side bearer, fixed"),
                ("jack", "jack or chock, put down"),
            ),
            help=(
                "A spring carries always. A bearer is built in and may stand off. A jack is put down when the"
                " ramp is used."
            ),
        ),
    ]
    back_mm: Annotated[
        MM,
        Dim(
            label="Support back",
            unit="mm",
            low=-3000,
            high=20000,
            step=10,
            help="Back from the deck edge; negative beyond it.",
        ),
    ]
    across_mm: Annotated[
        MM,
        Dim(
            label="Support across",
            unit="mm",
            low=-3000,
            high=3000,
            step=10,
            help="From the middle of the carrier.",
        ),
    ]
    rate_n_mm: Annotated[
        float,
        Dim(
            label="Spring rate",
            unit="N/mm",
            low=0.1,
            high=100000,
            step=1,
            help="Force for each mm that the spring is pressed.",
        ),
    ] = 30.0
    gap_mm: Annotated[
        MM,
        Dim(
            label="Gap when empty",
            unit="mm",
            low=0,
            high=300,
            help="Of a bearer or jack: room that closes before it bears.",
        ),
    ] = 0.0
    bump_mm: Annotated[
        MM,
        Dim(
            label="Travel to bump stop",
            unit="mm",
            low=0,
            high=500,
            help="How far down from empty until the spring is solid.",
        ),
    ] = 60.0
    extension_mm: Annotated[
        MM,
        Dim(
            label="Travel to full extension",
            unit="mm",
            low=0,
            high=500,
            help="How far up from empty until the wheel hangs on it.",
        ),
    ] = 40.0
    unsprung_kg: Annotated[
        KG,
        Dim(
            label="Unsprung mass",
            unit="kg",
            low=0,
            high=2000,
            help="Wheel and its part of the axle below the spring.",
        ),
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CarrierBody:
    """What the supports carry, and how steady it has to stand."""

    body_kg: Annotated[
        KG,
        Dim(
            label="Body",
            unit="kg",
            low=0,
            high=20000,
            step=10,
            help="Mass on the supports, empty, without the ramp.",
        ),
    ]
    body_back_mm: Annotated[
        MM,
        Dim(
            label="Body's centre back",
            unit="mm",
            low=-3000,
            high=20000,
            step=10,
            help="Centre of mass, back from the deck edge.",
        ),
    ]
    body_across_mm: Annotated[
        MM,
        Dim(
            label="Body's centre across",
            unit="mm",
            low=-2000,
            high=2000,
            help="Centre of mass, from the middle.",
        ),
    ] = 0.0
    cargo_kg: Annotated[
        KG,
        Dim(
            label="Cargo",
            unit="kg",
            low=0,
            high=20000,
            step=10,
            help="Load aboard while the deck is called loaded.",
        ),
    ] = 0.0
    cargo_back_mm: Annotated[
        MM,
        Dim(
            label="Cargo's centre back",
            unit="mm",
            low=-3000,
            high=20000,
            step=10,
            help="Its centre, back from the deck edge.",
        ),
    ] = 1000.0
    cargo_across_mm: Annotated[
        MM,
        Dim(
            label="Cargo's centre across",
            unit="mm",
            low=-2000,
            high=2000,
            help="Its centre, from the middle.",
        ),
    ] = 0.0
    ballast_kg: Annotated[
        KG,
        Dim(
            label="Ballast",
            unit="kg",
            low=0,
            high=20000,
            step=10,
            help="Mass added on purpose; it steadies a light carrier.",
        ),
    ] = 0.0
    ballast_back_mm: Annotated[
        MM,
        Dim(
            label="Ballast's centre back",
            unit="mm",
            low=-3000,
            high=20000,
            step=10,
            help="Its centre, back from the deck edge.",
        ),
    ] = 1000.0
    ballast_across_mm: Annotated[
        MM,
        Dim(
            label="Ballast's centre across",
            unit="mm",
            low=-2000,
            high=2000,
            help="Its centre, from the middle.",
        ),
    ] = 0.0
    twist_mm: Annotated[
        MM,
        Dim(
            label="Twist of the ground",
            unit="mm",
            low=0,
            high=300,
            help=(
                "How far the ground under one wheel may lie below the plane of the others: floor, yard or"
                " track."
            ),
        ),
    ] = 0.0
    lean_limit_deg: Annotated[
        DEG,
        Dim(
            label="Lean allowed",
            unit="deg",
            low=0.1,
            high=20,
            step=0.1,
            help="Most that the deck may lean or nod.",
        ),
    ] = 3.0
    least_share_percent: Annotated[
        float,
        Dim(
            label="Least wheel load",
            unit="%",
            low=0,
            high=100,
            help=(
                "Of what a support carries when empty, the least that must be left on it under every load and"
                " twist."
            ),
        ),
    ] = 20.0


LIGHT_BODY = CarrierBody(body_kg=500, body_back_mm=1200)
"""What a design holds that describes no supports: sizes to begin from."""
