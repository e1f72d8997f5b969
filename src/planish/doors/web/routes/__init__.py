"""One module per area of the API; each has a `router`."""
