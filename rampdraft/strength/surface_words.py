"""The workings of the running surface: slats, plates and cross members under a wheel."""

from rampdraft.model.section import Section
from rampdraft.strength.formula import Worked, factor, mm3
from rampdraft.strength.joining import Seam
from rampdraft.strength.patches import Worst
from rampdraft.strength.utilisation import worst_last
from rampdraft.words.figures import measure, mpa, newton, newton_metre, percent
from rampdraft.words.prose import Lines
from rampdraft.words.say import called, say


def slat_lines(
    words: str,
    worst: Worst,
    gamma_q: float,
    modulus: Worked,
    bent: Worked,
    of: str,
    sheared: tuple[str, Worked, float] | None = None,
) -> Lines:
    """Return the lines of a slat in bending, and in shear beside a rail where that is judged."""
    lines = (
        say(
            "{load}: {force} on a slat over {across}, {place}",
            load=words,
            force=newton(worst.force_n),
            across=measure(worst.across_mm),
            place=worst.place.format(length=measure(worst.place_mm)),
        ),
        say(
            "M = {moment} with {factor} x {force}",
            moment=newton_metre(bent.of[0]),
            factor=factor(gamma_q),
            force=newton(worst.force_n),
        ),
        say(
            "W = {numbers} = {result}, what of its width bears; {of} = {strength}",
            numbers=modulus.numbers,
            result=modulus.result,
            of=of,
            strength=mpa(bent.of[2]),
        ),
        bent.short,
    )
    if sheared is None:
        return lines
    load, stress, used = sheared
    shear = say(
        "shear beside a rail, {load}: {symbols} = {used} of the strength",
        load=load,
        symbols=stress.symbols,
        used=percent(used),
    )
    return worst_last((bent.value, lines), (used, (shear,)))


def plate_lines(words: str, worst: Worst, gamma_q: float, modulus: Worked, bent: Worked) -> Lines:
    """Return the lines of a plate in bending."""
    force = newton(worst.force_n)
    return (
        say(
            "{load}: {force} {place}, at the side",
            load=words,
            force=force,
            place=worst.place.format(length=measure(worst.place_mm)),
        ),
        say(
            "M = {moment} with {factor} x {force}, over {wide}",
            moment=newton_metre(bent.of[0]),
            factor=factor(gamma_q),
            force=force,
            wide=measure(worst.wide_mm),
        ),
        say(
            "W = {numbers} = {result}; strength = {strength}",
            numbers=modulus.numbers,
            result=modulus.result,
            strength=mpa(bent.of[2]),
        ),
        bent.short,
    )


def cross_lines(
    words: str,
    worst: Worst,
    gamma_q: float,
    section: Section,
    bent: Worked,
    end: tuple[Worked, Seam, float] | None,
) -> Lines:
    """Return the lines of a cross member in bending, and of the weld at its end."""
    force = newton(worst.force_n)
    lines = (
        say(
            "{load}: {force} over {across}, in a bay of {bay}",
            load=words,
            force=force,
            across=measure(worst.across_mm),
            bay=measure(worst.place_mm),
        ),
        say(
            "M = {moment} with {factor} x {force}",
            moment=newton_metre(bent.of[0]),
            factor=factor(gamma_q),
            force=force,
        ),
        say(
            "W = {modulus}, {section}; strength = {strength}",
            modulus=mm3(bent.of[1]),
            section=called(section.text),
            strength=mpa(bent.of[2]),
        ),
        bent.short,
    )
    if end is None:
        return lines
    pull, weld, used = end
    joined = say(
        "weld at its end: {numbers} on {seam} = {used}",
        numbers=pull.numbers,
        seam=weld.words,
        used=percent(used),
    )
    return worst_last((bent.value, lines), (used, (joined,)))
