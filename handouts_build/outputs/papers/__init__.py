"""The papers of a project as PDF."""
