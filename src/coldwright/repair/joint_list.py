"""Every way to join that is known here. Clearances per side; success and comeback rates are
judgements of ours, the clearances and classes from the sources named."""

from __future__ import annotations

from coldwright.repair import fillers
from coldwright.repair.flame_free import CrimpedRing, EpoxyPatch
from coldwright.repair.joint_methods import (
    MEMORY,
    AluminiumBrazing,
    BrassBrazing,
    JointMethod,
    PhosphorusBrazing,
    SilverBrazing,
    ZincSoldering,
)

_BCUP = (0.03e-3, 0.13e-3)  # welding glossary
_BAG = (0.05e-3, 0.13e-3)  # Machinery's Handbook, 0.002 to 0.005 in
_BALSI = (0.05e-3, 0.20e-3)  # from memory
METHODS: tuple[JointMethod, ...] = (
    CrimpedRing(),
    PhosphorusBrazing(
        "torch, phosphorus-copper filler",
        fillers.PHOSPHORUS,
        _BCUP,
        "welding glossary (classes, clearance, 150 °C limit); pairing from memory",
        flux="none, copper to copper",
        comeback=0.005,
        success=0.97,
    ),
    SilverBrazing(
        "torch, silver filler",
        fillers.SILVER,
        _BAG,
        "Machinery's Handbook (temperatures, clearance); pairing from memory",
        flux="brazing flux for silver filler (fluoride: do not breathe), washed off afterwards",
        comeback=0.006,
        success=0.96,
    ),
    BrassBrazing(
        "torch, brass rod",
        fillers.BRASS_ROD,
        _BAG,
        MEMORY,
        flux="brazing flux for brass rod (borax type)",
        comeback=0.01,
        success=0.9,
    ),
    ZincSoldering(
        "torch, zinc-aluminium solder",
        fillers.ZINC_ALUMINIUM,
        _BALSI,
        MEMORY,
        flux="cored, non-corrosive aluminium flux; take off every residue",
        aluminium_only=True,
        comeback=0.05,
        success=0.8,
    ),
    AluminiumBrazing(
        "torch, aluminium-silicon filler",
        fillers.ALUMINIUM_SILICON,
        _BALSI,
        MEMORY,
        flux="cored or powdered aluminium flux; take off every residue",
        aluminium_only=True,
        comeback=0.05,
        success=0.7,
    ),
    EpoxyPatch(),
)
