"""Repair and worth: joints, parts, changed circuits, money, the command."""
