"""The condition sheets of one or several tools: preview, issue, print, save."""
