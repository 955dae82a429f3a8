"""Mend or replace: the comparison, the owner's page, the sheet for the bench."""
