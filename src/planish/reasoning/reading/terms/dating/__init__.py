"""What each date speaks of: the making, a part, a repair, a use, letters on the thing, or a story."""
