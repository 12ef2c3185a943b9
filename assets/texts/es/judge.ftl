# Lo que dice el juez: hallazgos, actos, causas, puntuación.
severity-critical = crítico
