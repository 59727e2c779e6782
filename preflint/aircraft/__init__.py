"""The aircraft as recorded: typed, frozen, every value with its place."""
