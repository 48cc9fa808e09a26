"""The working as an inspector writes it by hand: the formula, the numbers put in, the result with its
unit.
"""

import math

from rampdraft.units import MM


def number(value: float, digits: int = 1) -> str:
    """Return a number with at most `digits` decimals and no idle zeros: 398, 0.5, 15.2."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def mm(value: MM) -> str:
    """Return a length: `398.5 mm`."""
    return f"{number(value, 1)} mm"


def percent(share: float) -> str:
    """Return a share in per cent: `63 %`, `4.7 %`."""
    return f"{number(100 * share, 1 if abs(share) < 0.1 else 0)} %"


def one_in(ratio: float) -> str:
    """Return a gradient as rise : going: `1 : 6.56`, or `level`."""
    return f"1 : {number(1 / abs(ratio), 2)}" if abs(ratio) > 1e-9 else "level"


def gradient(ratio: float) -> str:
    """Return a gradient in all three ways: `1 : 6.56 = 15.2 % = 8.67°`."""
    if abs(ratio) <= 1e-9:
        return "level = 0 % = 0°"
    percent, degrees = number(100 * abs(ratio), 2), number(math.degrees(math.atan(abs(ratio))), 2)
    return f"1 : {number(1 / abs(ratio), 2)} = {percent} % = {degrees}°"


def quotient(name: str, above: tuple[str, MM], below: tuple[str, MM]) -> tuple[str, ...]:
    """Return the working of a gradient: `gradient = rise / going`, `= 398 mm / 2611 mm = 0.1524`, `= 1 : 6.56
    = ...`.
    """
    ratio = above[1] / below[1]
    return (
        f"{name} = {above[0]} / {below[0]}",
        f"= {mm(above[1])} / {mm(below[1])} = {number(ratio, 4)}",
        f"= {gradient(ratio)}",
    )


def least(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a least length of several."""
    return _chosen(name, "least", terms, min(value for _, value in terms))


def greatest(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a greatest length of several."""
    return _chosen(name, "greatest", terms, max(value for _, value in terms))


def _chosen(name: str, which: str, terms: tuple[tuple[str, MM], ...], value: MM) -> tuple[str, ...]:
    return (
        f"{name} = {which} of ({', '.join(term for term, _ in terms)})",
        f"= {which} of ({', '.join(mm(one) for _, one in terms)})",
        f"= {mm(value)}",
    )


def plain(name: str, formula: str, numbers: str, result: str) -> tuple[str, ...]:
    """Return the working of any formula: names, then numbers, then the result."""
    return f"{name} = {formula}", f"= {numbers}", f"= {result}"


def given(name: str, result: str) -> tuple[str, ...]:
    """Return the working of a value that is stated or measured, not computed."""
    return (f"{name} = {result}",)
