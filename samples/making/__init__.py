"""What the Saltmere sample is made from: pieces, the manners of thirteen exhibitors, seeded faults, forms, the tables."""
