"""One vocabulary for command line and page; no HTML, no terminal."""
