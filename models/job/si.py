"""From the file's units to those inside: mm, °C, seconds for each kelvin.

Lengths and temperatures are rounded to a millionth, so that 300.2 °F is 149 °C and no hair above it.
"""

from models.geometry import Box
from models.job.job import Fabric, Material, Press, Thermal, Zone
from models.job.schema import (
    FabricEntry,
    MaterialEntry,
    NamedPressEntry,
    PressEntry,
    ThermalEntry,
    UnitsEntry,
    ZoneEntry,
)
from models.units import fahrenheit_to_celsius, inches_to_mm, per_fahrenheit_to_per_kelvin

DECIMALS = 6


class Si:
    """Converts what a file with these units says."""

    def __init__(self, units: UnitsEntry) -> None:
        self._in_inches = units.length == "in"
        self._in_fahrenheit = units.temperature == "F"

    def mm(self, length: float) -> float:
        return round(inches_to_mm(length), DECIMALS) if self._in_inches else length

    def celsius(self, temperature: float) -> float:
        if not self._in_fahrenheit:
            return temperature
        return round(fahrenheit_to_celsius(temperature), DECIMALS)

    def per_kelvin(self, per_degree: float) -> float:
        return per_fahrenheit_to_per_kelvin(per_degree) if self._in_fahrenheit else per_degree

    def press(self, entry: PressEntry) -> Press:
        return Press(
            platen_width_mm=self.mm(entry.platen[0]),
            platen_height_mm=self.mm(entry.platen[1]),
            lowest_c=self.celsius(entry.temperature[0]),
            hottest_c=self.celsius(entry.temperature[1]),
            handling_s=entry.handling_s,
            shortest_s=entry.shortest_s,
            heating_s_per_degree=self.per_kelvin(entry.heating_s_per_degree),
            cooling_s_per_degree=self.per_kelvin(entry.cooling_s_per_degree),
            name=entry.name if isinstance(entry, NamedPressEntry) else "",
        )

    def fabric(self, entry: FabricEntry) -> Fabric:
        return Fabric(
            name=entry.name,
            hottest_c=self.celsius(entry.hottest),
            grams_per_m2=entry.grams_per_m2,
            thickness_mm=self.mm(entry.thickness),
        )

    def zone(self, entry: ZoneEntry) -> Zone:
        x, y, width, height = (self.mm(length) for length in entry.box)
        return Zone(entry.kind, Box(x, y, width, height), entry.label or entry.kind.value)

    def material(self, key: str, entry: MaterialEntry) -> Material:
        return Material(
            key=key,
            label=entry.label or key.replace("-", " "),
            set_c=self.celsius(entry.temperature.set),
            lowest_c=self.celsius(entry.temperature.lowest),
            hottest_c=self.celsius(entry.temperature.hottest),
            least_s=entry.dwell.least,
            longest_s=entry.dwell.longest,
            total_s=entry.dwell.total,
            finish_s=entry.finish,
            pressures=tuple(entry.pressure),
            peel=entry.peel,
            carrier=entry.carrier,
            carrier_margin_mm=self.mm(entry.carrier_margin),
            takes_on_top=frozenset(entry.takes_on_top),
            guard=entry.guard,
            cover=entry.cover,
            carrier_safe=entry.carrier_safe,
            thickness_mm=self.mm(entry.thickness),
            first_s=entry.dwell.first,
            thermal=_thermal(entry.thermal),
        )


def _thermal(entry: ThermalEntry) -> Thermal:
    return Thermal(entry.conductivity, entry.density, entry.specific_heat)
