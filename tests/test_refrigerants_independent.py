"""The property layer against libraries that do not share CoolProp's equations or coefficients.

GERG-2008 (Kunz and Wagner, J. Chem. Eng. Data 57, 3032, 2012) as coded in teqp; from the data that
`chemicals` ships: Wagner vapour pressures (McGarry 1983), extended Antoine (Poling, Prausnitz and
O'Connell 2001), Perry's Handbook 8th ed. correlations (DIPPR), COSTALD liquid volumes (Hankinson
and Thomson 1979), Somayajulu surface tensions. Tolerances are of the size of the scatter among
such correlations.
"""

import numpy as np
import pytest
from lowside import refrigerants

chemicals = pytest.importorskip("chemicals")
teqp = pytest.importorskip("teqp")

CAS = {"R290": "74-98-6", "R600a": "75-28-5", "R22": "75-45-6", "R134a": "811-97-2"}
CELSIUS = -30, 0, 25, 40
hydrocarbons = pytest.mark.parametrize("name", ["R290", "R600a"])
at_temperatures = pytest.mark.parametrize(
    "temperature", [c + 273.15 for c in CELSIUS], ids=[f"{c} °C" for c in CELSIUS]
)


def saturation(name, temperature):
    fluid = refrigerants.get(name)
    return fluid, fluid.saturation(fluid.dew_pressure(temperature))


def row(module, table, name):
    return getattr(module, table).loc[CAS[name]]


@hydrocarbons
@at_temperatures
def test_gerg_2008(name, temperature):
    component = {"R290": "propane", "R600a": "isobutane"}[name]
    model = teqp.make_model({"kind": "GERG2008resid", "model": {"names": [component]}})
    fluid, s = saturation(name, temperature)
    molar_mass = fluid.facts.molar_mass
    guess = s.liquid_density / molar_mass * 1.01, s.vapour_density / molar_mass * 0.99
    liquid, vapour = model.pure_VLE_T(temperature, *guess, 30)
    pure = np.ones(1)
    compressibility = 1 + model.get_Ar01(temperature, vapour, pure)
    pressure = vapour * model.get_R(pure) * temperature * compressibility
    assert s.pressure == pytest.approx(pressure, rel=2e-3)
    assert s.liquid_density == pytest.approx(liquid * molar_mass, rel=1e-3)
    assert s.vapour_density == pytest.approx(vapour * molar_mass, rel=3e-3)


@pytest.mark.parametrize("name", ["R290", "R600a", "R22"])
@at_temperatures
def test_wagner_vapour_pressure(name, temperature):
    from chemicals import vapor_pressure

    c = row(vapor_pressure, "Psat_data_WagnerMcGarry", name)
    pressure = chemicals.Wagner_original(temperature, c.Tc, c.Pc, c.A, c.B, c.C, c.D)
    assert saturation(name, temperature)[1].pressure == pytest.approx(pressure, rel=4e-3)


@pytest.mark.parametrize("name", ["R134a", "R22"])
@at_temperatures
def test_extended_antoine_vapour_pressure(name, temperature):
    from chemicals import vapor_pressure

    c = row(vapor_pressure, "Psat_data_AntoineExtended", name)
    pressure = chemicals.TRC_Antoine_extended(temperature, c.Tc, c.to, c.A, c.B, c.C, c.n, c.E, c.F)
    assert saturation(name, temperature)[1].pressure == pytest.approx(pressure, rel=4e-3)


@hydrocarbons
@at_temperatures
def test_perry_vapour_pressure(name, temperature):
    from chemicals import vapor_pressure

    c = row(vapor_pressure, "Psat_data_Perrys2_8", name)
    pressure = chemicals.dippr.EQ101(temperature, c.C1, c.C2, c.C3, c.C4, c.C5)
    assert saturation(name, temperature)[1].pressure == pytest.approx(pressure, rel=1e-2)


@hydrocarbons
@at_temperatures
def test_perry_liquid_density(name, temperature):
    from chemicals import volume

    c = row(volume, "rho_data_Perry_8E_105_l", name)
    fluid, s = saturation(name, temperature)
    density = chemicals.dippr.EQ105(temperature, c.C1, c.C2, c.C3, c.C4) * fluid.facts.molar_mass
    assert s.liquid_density == pytest.approx(density, rel=6e-3)


@pytest.mark.parametrize("name", ["R290", "R600a", "R22"])
@at_temperatures
def test_costald_liquid_density(name, temperature):
    from chemicals import volume

    c = row(volume, "rho_data_COSTALD", name)
    fluid, s = saturation(name, temperature)
    critical = fluid.critical_temperature
    molar_volume = chemicals.COSTALD(temperature, critical, c.Vchar, c.omega_SRK)
    assert s.liquid_density == pytest.approx(fluid.facts.molar_mass / molar_volume, rel=6e-3)


@hydrocarbons
@at_temperatures
def test_perry_latent_heat(name, temperature):
    from chemicals import phase_change

    c = row(phase_change, "phase_change_data_Perrys2_150", name)
    fluid, s = saturation(name, temperature)
    molar = chemicals.dippr.EQ106(temperature, c.Tc, c.C1, c.C2, c.C3, c.C4)
    assert s.latent_heat == pytest.approx(molar / fluid.facts.molar_mass, rel=1.5e-2)


@at_temperatures
def test_perry_transport_properties_of_propane(temperature):
    """Perry's vapour values are for low pressure, hence the wider band on the vapour side."""
    from chemicals import thermal_conductivity, viscosity

    _, s = saturation("R290", temperature)
    c = row(viscosity, "mu_data_Perrys_8E_2_313", "R290")
    liquid = chemicals.dippr.EQ101(temperature, c.C1, c.C2, c.C3, c.C4, c.C5)
    assert s.liquid_viscosity == pytest.approx(liquid, rel=0.05)
    c = row(viscosity, "mu_data_Perrys_8E_2_312", "R290")
    vapour = chemicals.dippr.EQ102(temperature, c.C1, c.C2, c.C3, c.C4)
    assert s.vapour_viscosity == pytest.approx(vapour, rel=0.1)
    c = row(thermal_conductivity, "k_data_Perrys_8E_2_315", "R290")
    liquid = chemicals.dippr.EQ100(temperature, c.C1, c.C2, c.C3, c.C4, c.C5)
    assert s.liquid_conductivity == pytest.approx(liquid, rel=0.05)
    c = row(thermal_conductivity, "k_data_Perrys_8E_2_314", "R290")
    vapour = chemicals.dippr.EQ102(temperature, c.C1, c.C2, c.C3, c.C4)
    assert s.vapour_conductivity == pytest.approx(vapour, rel=0.1)


@hydrocarbons
@at_temperatures
def test_somayajulu_surface_tension(name, temperature):
    from chemicals import interface

    c = row(interface, "sigma_data_Somayajulu2", name)
    tension = chemicals.interface.Somayajulu(temperature, c.Tc, c.A, c.B, c.C)
    assert saturation(name, temperature)[1].surface_tension == pytest.approx(tension, rel=0.03)
