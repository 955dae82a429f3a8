"""The capillary: its march, what feeds it, delay of flashing, the correlation beside it."""
