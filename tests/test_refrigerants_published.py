"""What printed values mean for the property layer; the values run in tests/test_checks.py."""

import pytest
from lowside import refrigerants, store

PUBLISHED = store.read_toml("checks/refrigerants.toml")
ATMOSPHERE = 101325.0
PSI = 6894.757293168  # NIST SP 811, appendix B.8


def test_the_wrong_column_costs_six_kelvin():
    """R448A at 30 psig: superheat taken from bubble reads 6.26 K (11.3 °F) too much.

    That superheat is counted from dew is common practice, no published source; the size of the
    slip is computed.
    """
    fluid = refrigerants.get("R448A")
    pressure = ATMOSPHERE + 30 * PSI
    suction_line = fluid.dew_temperature(pressure) + 5
    right = fluid.superheat(pressure, suction_line)
    wrong = -fluid.subcooling(pressure, suction_line)
    assert right == pytest.approx(5)
    assert wrong - right == pytest.approx(6.26, abs=0.1)


@pytest.mark.parametrize("name", refrigerants.NAMES)
def test_safety_class_and_flammability(name):
    facts = refrigerants.facts_of(name)
    safety_class, *limit = PUBLISHED["safety"][name]
    assert facts.safety_class == safety_class
    assert ([facts.lfl] if facts.lfl else []) == limit
    assert facts.is_flammable == (safety_class != "A1")


def test_propane_limit_in_volume_and_in_mass_agree():
    """2.1 % by volume at 25 °C (NFPA 497, read in `chemicals`) is the 0.038 kg/m3 of the charge
    limits; IEC 60079-20-1 prints 1.7 %.
    """
    facts = refrigerants.facts_of("R290")
    molar_volume = 8.314462618 * 298.15 / ATMOSPHERE
    assert 0.021 * facts.molar_mass / molar_volume == pytest.approx(facts.lfl, abs=0.001)
