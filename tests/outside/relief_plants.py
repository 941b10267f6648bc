PLANTS = []
