"""The sealed PDF: contact sheet and pages."""
