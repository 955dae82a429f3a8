"""The one door through which units enter and leave: text here, SI floats inside."""

from coldwright.units.dimensions import Dimension
from coldwright.units.formulas import (
    STANDARD_ATMOSPHERE_PA,
    air_pressure_at_altitude,
    bar_gauge_from_pascal_abs,
    celsius_from_kelvin,
    fahrenheit_from_kelvin,
    inhg_vacuum_from_pascal_abs,
    kelvin_difference_from_celsius_difference,
    kelvin_difference_from_fahrenheit_difference,
    kelvin_from_celsius,
    kelvin_from_fahrenheit,
    pascal_abs_from_bar_gauge,
    pascal_abs_from_inhg_vacuum,
    pascal_abs_from_psig,
    psig_from_pascal_abs,
)
from coldwright.units.parsing import Basis, Pressure, dimensions_of, parse, parse_pressure
from coldwright.units.showing import System, figures, on_one_scale, show

__all__ = [
    "STANDARD_ATMOSPHERE_PA",
    "Basis",
    "Dimension",
    "Pressure",
    "System",
    "air_pressure_at_altitude",
    "bar_gauge_from_pascal_abs",
    "celsius_from_kelvin",
    "dimensions_of",
    "fahrenheit_from_kelvin",
    "figures",
    "inhg_vacuum_from_pascal_abs",
    "kelvin_difference_from_celsius_difference",
    "kelvin_difference_from_fahrenheit_difference",
    "kelvin_from_celsius",
    "kelvin_from_fahrenheit",
    "on_one_scale",
    "parse",
    "parse_pressure",
    "pascal_abs_from_bar_gauge",
    "pascal_abs_from_inhg_vacuum",
    "pascal_abs_from_psig",
    "psig_from_pascal_abs",
    "show",
]
