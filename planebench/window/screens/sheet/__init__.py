"""The condition sheets of one or several tools: seen as they will be, issued, printed."""
