"""What checks are made on, and what a quantity measures there."""

from collections.abc import Iterator
from dataclasses import dataclass, field

from rampdraft.geometry.members.member import Assembly, Body, Member
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.results import FoldResult, SitePose
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, Site, SiteKind
from rampdraft.prose import Prose
from rampdraft.units import MM

_KERB_REACH_MM = 20000.0
"""How far a reference kerb goes on level; the ground of a site goes on level beyond its ends anyway."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured:
    """A value measured on one subject, in the quantity's base unit, with its working."""

    key: str
    """Joins the check's id; empty for the whole ramp."""
    subject: str
    value: float
    """Yes and no are 1 and 0."""
    working: Prose | tuple[str, ...]
    text: str = ""
    """The value in words, where it is no plain number."""
    why: str = ""
    member: str = ""
    site_number: int = 0
    share: float | None = None
    """The place on the fold path where it is so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unjudged:
    """A subject on which the quantity cannot be measured, and why."""

    key: str
    subject: str
    why: str
    site_number: int = 0
    share: float | None = None


Finding = Measured | Unjudged


def on_whole(value: float, working: tuple[str, ...], member: str = "") -> tuple[Finding, ...]:
    """Return the one finding of a quantity that the whole ramp has."""
    return (Measured(key="", subject="", value=value, working=working, member=member),)


@dataclass(frozen=True, slots=True, kw_only=True)
class Subjects:
    """The design and all that follows from it.

    `kept` holds what several rule sets ask for, measured once.
    """

    design: Design
    assembly: Assembly
    sites: tuple[SitePose, ...]
    fold: FoldResult
    carried: Carried
    standing: CarrierStanding | None
    kept: dict[object, object] = field(default_factory=dict[object, object])

    @property
    def drop_mm(self) -> MM:
        """Return how far the deck sinks under its load; 0 where it does not sink."""
        return max((pose.drop_mm for pose in self.sites), default=0.0)

    def poses(self, kinds: tuple[SiteKind, ...]) -> Iterator[SitePose]:
        """Yield the poses at sites of these kinds; a deck that does not sink has only one state."""
        sinks = self.drop_mm > 0
        for pose in self.sites:
            if self.design.sites[pose.site_number - 1].kind in kinds and (sinks or pose.state == "empty"):
                yield pose

    def kerb_poses(self, kerb_mm: MM) -> tuple[SitePose, ...]:
        """Return the ramp put down on a level reference kerb of this height, deck empty and, if it sinks,
        loaded.
        """
        key = ("kerb", kerb_mm)
        if key not in self.kept:
            ground = ((0.0, kerb_mm), (_KERB_REACH_MM, kerb_mm))
            site = Site(name=f"{kerb_mm:g} mm kerb (reference)", kind="kerb", ground_mm=ground)
            drops = (None, self.drop_mm) if self.drop_mm > 0 else (None,)
            self.kept[key] = tuple(stand(self.design, self.assembly, site, 0, drop) for drop in drops)
        return self.kept[key]  # pyright: ignore[reportReturnType]

    def members(self, body: Body, role: str) -> tuple[Member, ...]:
        """Return the members of one body and role, in the order of the assembly."""
        key = (body, role)
        if key not in self.kept:
            self.kept[key] = tuple(
                one for one in self.assembly.members if one.body == body and one.role == role
            )
        return self.kept[key]  # pyright: ignore[reportReturnType]

    def key(self, pose: SitePose) -> str:
        """Return what stands for a pose in an id: `site-2-loaded`, `kerb-150-empty`."""
        place = f"site-{pose.site_number}" if pose.site_number else f"kerb-{pose.site.split()[0]}"
        return f"{place}-{pose.state}"

    def words(self, pose: SitePose) -> str:
        """Return the subject of a pose: `Kerb, deck loaded`; the bare site where the deck does not sink."""
        return f"{pose.site}, deck {pose.state}" if self.drop_mm > 0 else pose.site
