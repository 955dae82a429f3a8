"""The local web app: parse, call a use case, show."""
