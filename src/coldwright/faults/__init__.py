"""Each fault an object that alters a circuit or its surroundings."""
