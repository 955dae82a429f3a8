"""The electrical side: windings, start device, overload, supply, and what their readings say."""
