"""The appliance over hours: start-up, pull-down, cycling on its thermostat, standing."""
