"""What published models of netting in a current say, each within the range it was found in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from net3d.handbook.drag import DragModel, drag_models
from net3d.handbook.water import water_constant
from net3d.netting.netting import Floats
from net3d.water.water import Bands, Stream

SKIN = 0.04  # drag of netting that lies along the flow, in the outline models of handbook/screen_models.csv


@dataclass(frozen=True, eq=False)
class Screens:
    """Pieces of netting in the flow (k,), each taken for a flat screen."""

    areas: Floats  # of the outline [m^2]
    cosines: Floats  # between the flow and the netting's normal, 0 to 1
    speeds: Floats  # of the water there [m/s]
    solidity: Floats  # debris included
    diameters: Floats  # of the twine [m]
    bar_lengths: Floats  # [m]


def caught_solidity(bands: Bands, stream: Stream, clean: Floats | None = None) -> Floats:
    """Solidity of rows with debris (k,) [-]: ``s + (1 - s) blocked``, s = twine + caught, 1 at most."""
    return covered_by(bands.solidity if clean is None else clean, stream)


def covered_by(twine: Floats, stream: Stream) -> Floats:
    """Solidity with debris (k,) [-] of netting whose own is so much (k,) [-]."""
    covered = np.minimum(twine + stream.caught, 1.0)
    return np.asarray(covered + (1.0 - covered) * stream.blocked)


def outline_drag(model: DragModel, solidity: Floats, cosines: Floats | float = 1.0) -> Floats:
    """Drag coefficient on the outline (k,) [-], ``0.04 + (-0.04 + a Sn + b Sn^2 + c Sn^3) cos th``.

    Source: Loland 1991 and Aarsnes, Rudi and Loland 1990, as given in ``handbook/screen_models.csv``.

    Parameters
    ----------
    model : its coefficients
    solidity : Sn of the netting (k,) [-]
    cosines : of th, between its normal and the flow (k,) [-]

    >>> outline_drag(drag_models()["Loland"], np.array([0.2])).round(4).tolist()
    [0.2886]
    """
    a, b, c = model.coefficients
    facing = a * solidity + b * solidity**2 + c * solidity**3
    return np.asarray(SKIN + (facing - SKIN) * cosines)


def cylinder_screen_drag(model: DragModel, screens: Screens) -> Floats:
    """Drag coefficient on the outline [-], ``Ccyl Sn (2 - Sn) / (2 (1 - Sn)^2) (0.9 cos th + 0.1 cos 3 th)``.

    ``Ccyl`` is a polynomial in log10 Re, Re = U d / (nu (1 - Sn)). Source: Kristiansen and Faltinsen 2012.
    """
    powers = np.log10(np.maximum(_screen_reynolds(screens), 1.0))
    cylinder = np.polynomial.polynomial.polyval(powers, np.array(model.coefficients))
    open_part = np.maximum(1.0 - screens.solidity, 1e-3)
    facing = cylinder * screens.solidity * (2.0 - screens.solidity) / (2.0 * open_part**2)
    angles = np.arccos(np.clip(screens.cosines, 0.0, 1.0))
    return np.asarray(facing * (0.9 * np.cos(angles) + 0.1 * np.cos(3 * angles)))


def twine_drag(model: DragModel, screens: Screens) -> Floats:
    """Drag coefficient on the outline [-], ``(a + b (d / l) + c (d / l)^2) Sn cos th``, l the bar.

    Source: Milne 1972; the cosine is common practice.
    """
    a, b, c = model.coefficients
    slender = screens.diameters / screens.bar_lengths
    return np.asarray((a + b * slender + c * slender**2) * screens.solidity * screens.cosines)


def screen_forces(model: DragModel, screens: Screens) -> Floats:
    """Drag of pieces of netting along the flow by one model (k,) [N]: ``rho U^2 Cd A / 2``.

    Examples
    --------
    >>> square = Screens(*(np.array([x]) for x in (1.0, 1.0, 0.5, 0.12, 0.0015, 0.025)))
    >>> [screen_forces(drag_models()[name], square).round(1)[0].item() for name in ("Loland", "Aarsnes")]
    [15.7, 15.7]
    """
    if model.form == "outline":
        coefficients = outline_drag(model, screens.solidity, screens.cosines)
    elif model.form == "cylinder":
        coefficients = cylinder_screen_drag(model, screens)
    else:
        coefficients = twine_drag(model, screens)
    pressure = water_constant("fresh_water_density") / 2 * screens.speeds**2
    return np.asarray(pressure * coefficients * screens.areas)


def in_range(model: DragModel, screens: Screens) -> NDArray[np.bool_]:
    """Whether each piece lies within the range that a model was found in (k,) [-]."""
    reynolds = _screen_reynolds(screens)
    fits = (screens.solidity >= model.solidity[0]) & (screens.solidity <= model.solidity[1])
    return np.asarray(fits & (reynolds >= model.reynolds[0]) & (reynolds <= model.reynolds[1]))


def bag_force(walls: float, mouth: float, twine: float, speed: float) -> float:
    """Drag of a bag of netting along the flow, ``9.80665 a (Sn / Sm)^b S v^c`` [N].

    Parameters
    ----------
    walls : S, outline of all walls [m^2]
    mouth : Sm, area of the mouth [m^2]
    twine : Sn, area of the twine as seen along the flow [m^2]
    speed : v [m/s]

    Source: Kim 1995 to 1997, as given in ``handbook/screen_models.csv``.

    Examples
    --------
    >>> round(bag_force(6.5, 0.63, 0.23, 0.5), 1)
    24.6
    """
    factor, crowded, speeding = drag_models()["Kim"].coefficients
    return float(water_constant("gravity") * factor * (twine / mouth) ** crowded * walls * speed**speeding)


def _screen_reynolds(screens: Screens) -> Floats:
    open_part = np.maximum(1.0 - screens.solidity, 1e-3)
    return np.asarray(screens.speeds * screens.diameters / water_constant("kinematic_viscosity") / open_part)
