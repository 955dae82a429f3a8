"""The appliance's circuit as it lies in its cabinet, drawn on the server as SVG.

`records.py` what a drawing consists of; `pen.py` path strings; `cabinets.py` the cabinet by
kind; `compressor.py`, `condensers.py`, `evaporators.py` parts and tubes; `pins.py` where
readings are taken; `build.py` all of it.
"""
