"""The form that pencils in a crew."""
