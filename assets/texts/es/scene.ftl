# What is written into the scene.
