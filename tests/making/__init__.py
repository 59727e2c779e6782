"""What tests make: manifests, the club's aircraft with a fault or a silence in them, models of the world outside."""
