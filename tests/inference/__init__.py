"""The inference on its own: error law, sampler, odds and next checks against known answers."""
