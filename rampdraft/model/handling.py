"""What the movement has to do with: obstacles in its way, handles, and a spring that helps."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Switch, Words
from rampdraft.units import DEG, MM, N


@dataclass(frozen=True, slots=True, kw_only=True)
class Obstacle:
    """A thing on the carrier that the ramp must pass: a lamp, a step, a coupling, a tow bar."""

    name: Annotated[str, Words(label="Name", help="What it is.", longest=60)]
    outline_mm: Annotated[
        tuple[tuple[MM, MM], ...],
        Dim(
            label="Outline points",
            unit="mm",
            low=-20000,
            high=20000,
            help=(
                "Corners (x, z) of its side view, in order round it: x away from the deck edge, z up from the"
                " deck surface. Two points are a straight bar without thickness."
            ),
        ),
    ]
    left_mm: Annotated[
        MM,
        Dim(
            label="From",
            unit="mm",
            low=-5000,
            high=5000,
            help="Its left side across, from the middle of the ramp.",
        ),
    ]
    right_mm: Annotated[
        MM,
        Dim(
            label="To",
            unit="mm",
            low=-5000,
            high=5000,
            help="Its right side across, from the middle of the ramp.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Handle:
    """A place where somebody takes hold to fold and unfold the ramp."""

    name: Annotated[str, Words(label="Name", help="What people call it.", longest=60)]
    leaf: Annotated[
        Literal["inner", "outer"],
        Choice(
            label="On",
            options=(("inner", "inner leaf"), ("outer", "outer leaf")),
            help="The leaf that carries it.",
        ),
    ]
    at_mm: Annotated[
        MM,
        Dim(
            label="Along the leaf",
            unit="mm",
            low=0,
            high=6500,
            step=10,
            help="From the leaf's own hinge centre.",
        ),
    ]
    above_mm: Annotated[
        MM,
        Dim(
            label="Above the rails",
            unit="mm",
            low=-500,
            high=500,
            help="Above the top of the rails; negative below.",
        ),
    ]


AssistKind = Literal["none", "torsion", "gas"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assist:
    """A spring that helps to lift the inner leaf: torsion springs at the deck hinge, or gas springs."""

    kind: Annotated[
        AssistKind,
        Choice(
            label="Assist spring",
            options=(
                ("none", "none"),
                ("torsion", "torsion spring at the deck hinge"),
                ("gas", "gas spring"),
            ),
            help="A spring that carries part of the weight while folding.",
        ),
    ]
    count: Annotated[
        int, Dim(label="Number of springs", unit="", low=1, high=8, help="All alike, side by side.")
    ]
    rate_nmm_deg: Annotated[
        float,
        Dim(
            label="Torsion rate",
            unit="N mm/deg",
            low=0,
            high=100000,
            step=10,
            help="Moment of one torsion spring for each degree.",
        ),
    ]
    slack_deg: Annotated[
        DEG,
        Dim(
            label="Torsion spring slack at",
            unit="deg",
            low=-90,
            high=270,
            help="Inner leaf's angle at which a torsion spring pushes no more; below it, it lifts.",
        ),
    ]
    force_n: Annotated[
        N,
        Dim(
            label="Gas spring force",
            unit="N",
            low=0,
            high=5000,
            step=10,
            help="Force of one gas spring, taken as even over its stroke.",
        ),
    ]
    carrier_out_mm: Annotated[
        MM,
        Dim(
            label="Fixed out",
            unit="mm",
            low=-3000,
            high=1000,
            help="Gas spring's eye on the carrier: out from the deck edge.",
        ),
    ]
    carrier_below_mm: Annotated[
        MM,
        Dim(
            label="Fixed below",
            unit="mm",
            low=-1000,
            high=2000,
            help="Gas spring's eye on the carrier: below the deck surface.",
        ),
    ]
    leaf_at_mm: Annotated[
        MM,
        Dim(
            label="Fixed along the leaf",
            unit="mm",
            low=0,
            high=6000,
            help="Gas spring's eye on the inner leaf: from the deck hinge.",
        ),
    ]
    leaf_above_mm: Annotated[
        MM,
        Dim(
            label="Fixed above the rails",
            unit="mm",
            low=-500,
            high=500,
            help="Gas spring's eye on the inner leaf: above the rails.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldDown:
    """What keeps the empty ramp down where springs would lift it."""

    latch: Annotated[
        bool,
        Switch(
            label="Latch across the joint",
            help="A toggle latch or hook that keeps the joint from rising; undone before folding.",
        ),
    ] = False
    pull_n: Annotated[
        N,
        Dim(
            label="Latch pull",
            unit="N",
            low=1,
            high=20000,
            step=10,
            help="Working load of the latch, as marked.",
        ),
    ] = 500.0
    arm_mm: Annotated[
        MM,
        Dim(
            label="Latch arm",
            unit="mm",
            low=1,
            high=500,
            help="From the joint's hinge centre, square to the line that the latch pulls along.",
        ),
    ] = 40.0
    demanded_n: Annotated[
        N,
        Dim(
            label="Demanded to lift",
            unit="N",
            low=0,
            high=1000,
            step=5,
            help="Least force that may lift the joint or the toe of the empty ramp; 30 N is common practice.",
        ),
    ] = 30.0
    toe_held_mm: Annotated[
        MM,
        Dim(
            label="Toe lifted",
            unit="mm",
            low=0,
            high=1000,
            step=10,
            help=(
                "How high somebody may lift the toe and the ramp still falls back: 100 mm, a foot or a hand"
                " under it, is common practice. 0 for not judged."
            ),
        ),
    ] = 100.0
    rebound_m_s: Annotated[
        float,
        Dim(
            label="Thrown up",
            unit="m/s",
            low=0,
            high=5,
            step=0.1,
            help=(
                "How fast the joint may rise, when a load leaves it and springs rebound, and the ramp still"
                " falls back: 1 m/s is common practice. 0 for not judged."
            ),
        ),
    ] = 1.0


FREE = HoldDown()
"""What a design without a latch holds."""

NO_ASSIST = Assist(
    kind="none",
    count=1,
    rate_nmm_deg=500,
    slack_deg=90,
    force_n=300,
    carrier_out_mm=-400,
    carrier_below_mm=100,
    leaf_at_mm=400,
    leaf_above_mm=-20,
)
"""What a design without an assist spring holds, with sizes to begin from."""
