"""How near an answer must come: as near as the instruments that give it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Tolerance:
    """Room around a right answer.

    Attributes
    ----------
    us, metric : float
        Absolute room, in the unit a reader of that system sees.
    share : float
        Room as a share of the answer; the larger of the two counts.
    because : str
        Why no nearer, finishing "anything within … counts: …".
    """

    us: float = 0.0
    metric: float = 0.0
    share: float = 0.0
    because: str = ""

    def si(self, answer, kind, show):
        """Room around one answer.

        Parameters
        ----------
        answer : float
            Right answer. [SI]
        kind : str
            Its kind, a key of ``units.KINDS``.
        show : Readout
            The reader's units.

        Returns
        -------
        float
            Largest deviation that still counts as right. [SI]
        """
        absolute = (self.us if show.system == "us" else self.metric) * show.step(kind, digits=0)
        return max(absolute, self.share * abs(answer))

    def text(self, answer, kind, show):
        """Write the room, such as ``"±1.0 °F"``.

        Parameters
        ----------
        answer : float
            Right answer. [SI]
        kind : str
            Its kind.
        show : Readout
            The reader's units.

        Returns
        -------
        str
            The room with its unit.
        """
        return f"±{show.text(self.si(answer, kind, show), DIFFERENCE_OF.get(kind, kind))}"


#: The kind of a difference between two quantities of a kind, where it is another one.
DIFFERENCE_OF = {
    "temperature": "temperature_difference",
    "gauge_pressure": "pressure_difference",
    "pressure": "pressure_difference",
}

_GAUGE = "a manifold gauge is read no finer"
_CLAMP = "a clamp thermometer is good to about that"
_MODEL = "the model behind it is no better"

#: Usual room by kind of answer. Clamp ±1 °F and gauge accuracy: common practice, no published
#: source; the rest is our own choice and says why.
USUAL = {
    "gauge_pressure": Tolerance(1.0, 0.1, because=_GAUGE),
    "pressure": Tolerance(1.0, 0.1, because=_GAUGE),
    "pressure_difference": Tolerance(1.0, 0.1, because=_GAUGE),
    "temperature": Tolerance(1.0, 0.5, because=_CLAMP),
    "temperature_difference": Tolerance(1.0, 0.5, because=_CLAMP),
    "mass": Tolerance(0.1, 2.0, because="a charging scale reads no finer"),
    "enthalpy": Tolerance(0.5, 1.0, because="a chart is read no finer"),
    "ratio": Tolerance(2.0, 2.0, because="that is within two points"),
    "mass_flow": Tolerance(share=0.05, because=_MODEL),
    "capacity": Tolerance(share=0.05, because=_MODEL),
    "power": Tolerance(share=0.05, because=_MODEL),
    "heat_flow": Tolerance(share=0.05, because=_MODEL),
    "number": Tolerance(share=0.03, because="that is rounding"),
    "port": Tolerance(share=0.05, because=_MODEL),
    "length": Tolerance(share=0.03, because="a tape is read no finer"),
}
