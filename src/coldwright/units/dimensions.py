"""What kinds of quantity pass through the door; each names its SI unit and an example."""

from __future__ import annotations

from enum import Enum


class Dimension(Enum):
    """A kind of quantity: SI unit as used inside, and how it may be written."""

    TEMPERATURE = ("K", "'-18 °C', '0 °F' or '255 K'")
    TEMPERATURE_DIFFERENCE = ("K difference", "'5 K' or '9 °F'")
    TEMPERATURE_RATE = ("K/s", "'3 K/h' or '5 °F/h'")
    PRESSURE = ("Pa absolute", "'0.6 bar absolute', '2 psig' or '6 inHg vacuum'")
    PRESSURE_DIFFERENCE = ("Pa difference", "'0.1 bar' or '2 psi'")
    MASS = ("kg", "'140 g' or '4.9 oz'")
    LENGTH = ("m", "'0.66 mm', '2.9 m' or '1/4 in'")
    ALTITUDE = ("m above sea level", "'1500 m' or '5000 ft'")
    AREA = ("m2", "'0.9 m2' or '600 cm2'")
    VOLUME = ("m3", "'290 l', '6.6 cm3' or '10 cu ft'")
    POWER = ("W", "'96 W', '0.12 kW' or '400 BTU/h'")
    CURRENT = ("A", "'1.6 A' or '850 mA'")
    VOLTAGE = ("V", "'230 V'")
    RESISTANCE = ("ohm", "'12.5 ohm', '2 Mohm' or 'open'")
    TIME = ("s", "'90 s', '8 min', '2 h' or '9 year'")
    FRACTION = ("1", "'55 %' or 0.55")
    NUMBER = ("number", "a plain number such as 45")
    FREQUENCY = ("Hz", "'60 Hz'")
    ROTATIONAL_SPEED = ("1/s", "'2950 rpm' or '49 1/s'")
    MASS_FLOW = ("kg/s", "'1.2 kg/h' or '0.4 g/s'")
    THROUGHPUT = ("Pa m3/s", "'3.8e-5 mbar·l/s', '1e-4 Pa·m³/s' or '1e-3 atm·cc/s'")
    CONDUCTANCE = ("W/K", "'1.4 W/K'")
    CONDUCTANCE_PER_LENGTH = ("W/(m K)", "'12 W/(m K)'")
    HEAT_TRANSFER_COEFFICIENT = ("W/(m2 K)", "'25 W/(m2 K)'")
    THERMAL_RESISTANCE = ("K/W", "'0.02 K/W'")
    LOSS_COEFFICIENT = ("1/m4", "'3e9 1/m4'")
    KIND = ("name", "a name")

    @property
    def si_unit(self) -> str:
        """The unit inside."""
        return self.value[0]

    @property
    def example(self) -> str:
        """How a value may be written, for messages."""
        return self.value[1]

    @property
    def words(self) -> str:
        """The dimension as a plain phrase with its article, for messages."""
        phrase = self.name.lower().replace("_", " ")
        return ("an " if phrase[0] in "aeiou" else "a ") + phrase
