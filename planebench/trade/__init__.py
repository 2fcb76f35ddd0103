"""The rules of the trade as pure functions over values."""
