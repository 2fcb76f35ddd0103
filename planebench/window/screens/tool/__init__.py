"""The record of one tool: its photographs, and the seven questions answered beside them."""
