"""From a log to readings a quasi-steady model can be held to, with what they are worth."""
