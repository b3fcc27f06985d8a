"""Moisture that wood comes to in a room's air, and how much a board's width changes with it."""

from ground.wood import Movement
from specs.materials import Cut

VALID = (6.0, 14.0)
"""Moisture contents between which the coefficients of movement hold (Wood Handbook FPL-GTR-190,
Table 13-5, caption)."""


def equilibrium(celsius: float, humidity: float) -> float:
    """Equilibrium moisture content in % at ``humidity`` % relative humidity.

    FPL Research Note FPL-RN-0268 (1998), equation with the constants for degrees C; the same as
    Wood Handbook Eq. 4-5 (from memory).
    """
    h, t = humidity / 100, celsius
    w = 349 + 1.29 * t + 0.0135 * t**2
    k = 0.805 + 0.000736 * t - 0.00000273 * t**2
    k1 = 6.27 - 0.00938 * t - 0.000303 * t**2
    k2 = 1.91 + 0.0407 * t - 0.000293 * t**2
    kh = k * h
    bound = (k1 * kh + 2 * k1 * k2 * kh**2) / (1 + k1 * kh + k1 * k2 * kh**2)
    return 1800 / w * (kh / (1 - kh) + bound)


def coefficient(movement: Movement, cut: Cut) -> float:
    """How far a board's width moves, a share for each percent of moisture.

    Rift boards have rings at 45 degrees to the face: the mean of both ways (common practice, no
    source: C_T cos^2 + C_R sin^2).
    """
    match cut:
        case Cut.FLAT:
            return movement.tangential
        case Cut.QUARTERED:
            return movement.radial
        case Cut.RIFT:
            return (movement.tangential + movement.radial) / 2


def change(width: float, share: float, before: float, after: float) -> float:
    """How much wider (mm) ``width`` is at ``after`` % than at ``before`` %.

    Wood Handbook Eq. 13-2 (from memory): D C (M_F - M_I).
    """
    return width * share * (after - before)


def from_shrinkage(percent: float) -> float:
    """The coefficient that a total shrinkage (%, green to oven-dry, from 30 % moisture) stands for.

    The footnote of Wood Handbook Table 13-5 (from memory): on the size at 10 % moisture.
    """
    return percent / 3000 / (1 - percent / 150)
