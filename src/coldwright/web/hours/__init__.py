"""An appliance over hours."""
