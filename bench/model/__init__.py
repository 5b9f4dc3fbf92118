"""What lies on the bench, as frozen records: plastic, mould, colourant, recipe, station, caution.

Every record is keyword-only and frozen. A field that holds a quantity is annotated with its unit
(``bench.units``); its key in files is its name without the unit. Each record has ``faults()``: what its values
say about each other that cannot be, in the same words whoever asks.
"""
