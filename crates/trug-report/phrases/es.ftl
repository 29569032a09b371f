# The fixed words of the sheet, in Spanish (es). No native speaker has read them yet: corrections are welcome.
# Orders are in the formal imperative. A batch is «tanda», the pre-blend «mezcla pequeña» («premezcla» would be taken for a
# bought premix), a delivery «lote». Lists are parted by semicolons: the comma stands inside numbers.
# Numbers and masses come in written out; a { $count } is a whole number.
# In doubt: “voltee” and “piso”, which Spain says otherwise.

## Numbers and days

range = { $low } a { $high }
at-least = como mínimo { $value }
at-most = como máximo { $value }
list-next = { $most }; { $next }
list-last = { $most } y { $last }
date = { $day } de { $month } de { $year }
month = { $month ->
    [1] enero
    [2] febrero
    [3] marzo
    [4] abril
    [5] mayo
    [6] junio
    [7] julio
    [8] agosto
    [9] septiembre
    [10] octubre
    [11] noviembre
   *[12] diciembre
}
days = { $count ->
    [one] { $count } día
   *[other] { $count } días
}

## The head of a sheet

fact-mass = peso
fact-batch = esta tanda
fact-ordered = pedido
fact-group = para
fact-animal = animales
fact-day = día
fact-written = escrito en
mass-in-batches = { $total }: { $count } tandas de { $each }
batch-of = tanda { $number } de { $count }
batches-of = tandas { $first } a { $last } de { $count }
times-over = { $heading } – para cada una de las { $count } tandas
draft = BORRADOR
draft-asked = No haga esta mezcla: la hoja se pidió como borrador.
draft-errors = No haga esta mezcla: { $count ->
    [one] { $count } error
   *[other] { $count } errores
}, vea ENCONTRADO AL REVISAR.
defers = La etiqueta del producto, el veterinario y la ley local sobre alimentos para animales deciden qué se da a los animales. Este plan solo dice cómo pesarlo y mezclarlo.

## What to beware of

beware = CUIDADO
not-a-feed = NO LO DÉ TAL CUAL A LOS ANIMALES
hazard-not-a-feed = NO LO DÉ TAL CUAL A LOS ANIMALES: { $ration } sirve para hacer otras raciones y nunca se da tal cual.
hazard-no-animal = { $ration } no dice para qué animal es: no se revisó ni el daño ni la ley.
hazard-medicated = Contiene medicamento: mézclelo al último, después de todos los demás alimentos del día. Antes de hacer cualquier otro alimento, limpie el piso, los recipientes y las herramientas, y después pase por todo, en seco, un ingrediente de base sin medicamento. Ese ingrediente es únicamente para los animales que comen el alimento con medicamento, o para ninguno.
product-eggs = huevos
product-milk = leche
product-meat = carne
hazard-withdrawal = Contiene medicamento: nada de «{ $product }» para la gente durante { $days } después de la última vez que los animales lo comieron. La etiqueta, el veterinario y la ley local deciden.
hazard-keep-from = No lo dé nunca a este animal ni lo deje a su alcance: { $animal }.
hazard-in = { $ingredient }: { $hazard }

## The order of the day

day-order = TRABAJO DEL DÍA, EN ORDEN
day-sheet = hoja
day-what = qué mezclar
day-mass = cuánto
day-see-to = cuidado
day-clean = Contiene medicamento: después, limpie y pase en seco un ingrediente de base sin medicamento.
day-not-a-feed = No lo dé tal cual a los animales: es solo para mezclar.

## The weighing table

weigh = PESE, en el orden del trabajo
column-what = ingrediente
column-lot = lote
column-mass = cuánto
column-scale = balanza
column-range = puede marcar
column-done = hecho
column-actual = peso leído
for-step = para el paso { $step }
no-scale = ninguna sirve
together = en total
on-top = { $ingredient }, además del 100 %
in-loads = en { $count } pesadas: { $loads }; sume los pesos leídos
loads-alike = { $count } veces { $mass }
in-parts = { $ingredient }: { $parts } = { $whole }

## The steps

mix = MEZCLE
mass-of = { $mass } de { $what }
the-mix = la mezcla del paso { $step } ({ $mass })
the-preblend = la mezcla pequeña del paso { $step } ({ $mass })
the-heap = el montón del paso { $step } ({ $mass })
in-one = en un solo recipiente «{ $vessel }»
in-the = en el recipiente «{ $vessel }»
on-floor = en el piso
put = Ponga { $where }: { $what }.
heap = Amontone { $where }: { $what }.
heap-in-order = Amontone { $where }, en este orden: { $what }.
work-in = Agregue { $what } mientras remueve.
lay-out = Extienda { $what } { $where }.
sprinkle = Esparza { $what } por encima.
sprinkle-in-portions = { $count ->
    [one] Esparza { $what } por encima, en { $count } vez.
   *[other] Divida { $what } en { $count } partes y espárzalas por encima, una tras otra.
}
stir = Mezcle.
turn = { $count ->
    [one] Voltee todo { $count } vez.
   *[other] Voltee todo { $count } veces.
}
turn-until-even = Voltee todo hasta que quede igual por todas partes.
this-is-preblend = Esta es la mezcla pequeña.
this-is-heap = Este es el montón.
this-is-batch = Esta es la tanda entera.
sample-heap = Tome la muestra: haga un cono con el montón, aplánelo, divídalo en cuatro partes iguales y guarde para la muestra dos partes que estén frente a frente. Haga lo mismo con esas dos partes, hasta que lo guardado quepa en la bolsa de la muestra.
sample-feed = Tome la muestra: haga un cono con la mezcla, aplánelo, divídalo en cuatro partes iguales y guarde para la muestra dos partes que estén frente a frente. Haga lo mismo con esas dos partes, hasta que lo guardado quepa en la bolsa de la muestra.
bag = Ponga en sacos y amarre una etiqueta a cada saco: { $ration }, { $day }, tanda, lotes, quién mezcló.
clean = Contiene medicamento: antes de hacer cualquier otro alimento, limpie el piso, los recipientes y las herramientas, y después pase por todo, en seco, un ingrediente de base sin medicamento. Ese ingrediente es únicamente para los animales que comen el alimento con medicamento, o para ninguno.

## The picture

picture = Cómo se arma la tanda
picture-step = paso { $step }
picture-floor = piso

## Totals

totals = TOTALES de una tanda

## Doses

doses = DOSIS, y cuánto pueden variar de más o de menos (dos desviaciones estándar)
column-dose = qué
column-value = previsto
column-bound = permitido
column-batch = una tanda
column-portion = una porción
dose-of-product = { $ingredient }, dosis
dose-of-active = { $ingredient }, dosis de { $active }
bound-by-law = { $what }, según la ley
bound-by-harm = { $what }, fuera de este límite hace daño
dose-allowed = permitido { $bound }
dose-batch = una tanda { $range }
dose-portion = una porción { $range }

## What was found

found = ENCONTRADO AL REVISAR
severity-error = error
severity-warning = advertencia
severity-note = nota
accepted = aceptado
reason = motivo: { $text }
help = ayuda: { $text }

## The label

label = ETIQUETA, para recortar
label-mixed = mezclado el
label-keeps = se conserva hasta el
label-keeps-value = { $date } ({ $days })
label-animals = para
label-head = { $animal }: { $head }
label-lots = lotes
label-lot = { $ingredient } { $lot }
label-mixed-by = mezclado por

## The page on a phone

page-mixed-by = mezclado por
page-made = mezclado el
page-text = Registro de lo hecho
page-not-weighed = no pesado
page-only-ticked = marcado, sin peso escrito
page-copy = Copiar para el registro
page-copied = Copiado. Péguelo en un archivo de texto de la granja.
page-clear = Borrar las marcas y los pesos
page-clear-sure = ¿Borrar todas las marcas y todos los pesos de esta hoja?
page-outside = fuera de { $range }
page-unreadable = no es un número
page-left = líneas por pesar: { "{n}" }
page-all-done = Todo está pesado.
page-not-kept = Esta página no puede guardar las marcas: imprímala o no la cierre.
page-print = Imprimir
page-text = Registro
page-not-weighed = no pesado
page-only-ticked = marcado, sin peso escrito
