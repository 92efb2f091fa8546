"""What people read beside the calendar: pages and pictures, on paper and on the screen."""
