"""The hall: tablets paired, let in, listened to, and the pictures they bring."""
