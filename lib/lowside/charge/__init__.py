"""Grams: how much refrigerant sits in every part of a box, running and standing.

A small sealed system is a closed account of grams. The mass in a part is the integral of density
over its volume. Where liquid and vapour flow side by side, the vapour runs ahead and liquid stays
behind: the void fraction says by how much, and nobody knows it well. So the model is a name that
can be changed, and the spread between models is the honest uncertainty (`void.BAND`).

Left out: the capillary tube (under a gram), liquid held in the bends, the change of composition
that a blend suffers when its liquid and its vapour rest in different places, oil that travels with
the refrigerant.

Masses are in kg here as everywhere inside; grams and ounces are for ``readout``.
"""

from .inventory import Inventory, Running, Volumes, running
from .off_cycle import Standing, standing
from .oil import CHI_BAND, Oil, dissolved, oil_fraction
from .parts import CoilMass, Tube, coil_mass, stream_density, vapour_density, vessel_mass
from .void import BAND, DEFAULT, MODELS, mean_density, void_fraction
from .weighing import HOSE_HOLDS, Weighing, hose_content, hose_mass, weigh

__all__ = [
    "BAND",
    "CHI_BAND",
    "DEFAULT",
    "HOSE_HOLDS",
    "MODELS",
    "CoilMass",
    "Inventory",
    "Oil",
    "Running",
    "Standing",
    "Tube",
    "Volumes",
    "Weighing",
    "coil_mass",
    "dissolved",
    "hose_content",
    "hose_mass",
    "mean_density",
    "oil_fraction",
    "running",
    "standing",
    "stream_density",
    "vapour_density",
    "vessel_mass",
    "void_fraction",
    "weigh",
]
