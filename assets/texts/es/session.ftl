# A run in the window: modes, how it ends, what is kept of it.

store-no-folder = no hay carpeta donde guardar las ejecuciones; indicar una en la variable de entorno { $variable }
settings-put-aside = { $file }: no se puede leer la configuración: { $error }; vale la habitual, y el archivo se conserva como { $kept }
settings-unreadable = { $file }: no se puede leer la configuración: { $error }; vale la habitual

# Lo que se sabe de una línea antes de recorrerla.
known-pipe = Tubería
known-pipe-is = { $size }, DR { $ratio }, { $diameter } mm de diámetro exterior
known-stick = Un tramo
known-stick-is = { $length } m, { $mass } t
known-row = Tramos
known-row-is = { $sticks } en el rack{ $brought ->
    [0] {""}
   *[other] , y el cargador trae { $brought } más
}
known-rack = Rack
known-rack-is = admite { $rated } kN
known-escapement = Escape
known-escapement-pins = pasador de compuerta y pasador separador en cada riel
known-escapement-wheel = rueda de estrella en cada riel
known-hand = Línea
known-hand-right = a derechas: mirando a la máquina, el rack queda a la derecha
known-hand-left = a izquierdas: mirando a la máquina, el rack queda a la izquierda
known-joint = Unión
known-joint-is = { $time } s en las mordazas
known-weather = Tiempo
known-weather-is = { $temperature } °C, viento { $wind } m/s
