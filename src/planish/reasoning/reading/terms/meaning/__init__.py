"""What a word means beside its neighbours: of which part, denied, doubted, only a look, a shape, a colour, a coat."""
