"""Compressors: mass flow, power and discharge state, by efficiencies or by a rating polynomial.

Two descriptions answer the same two calls, ``mass_flow`` and ``run``:

* `Compressor`: swept volume with a clearance pocket and an isentropic efficiency curve. Invented
  machines of the lessons are of this kind.
* `RatedCompressor`: the ten-coefficient polynomial of AHRI 540, the form in which real machines
  are published.

In both a stated share of the power leaves through the shell; the rest stays in the gas.
"""

from .rated import RatedCompressor, polynomial, rate
from .result import CompressorResult
from .swept import Compressor

__all__ = [
    "Compressor",
    "CompressorResult",
    "RatedCompressor",
    "polynomial",
    "rate",
]
