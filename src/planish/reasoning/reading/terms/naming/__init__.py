"""Names of people, firms and places, who made the thing and in which part, and names that made nothing."""
