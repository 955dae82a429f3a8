"""Speed, accuracy and the recipes behind shipped data."""
