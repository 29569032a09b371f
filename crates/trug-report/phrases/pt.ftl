# The fixed words of the sheet, in Portuguese (pt). No native speaker has read them yet: corrections are welcome.
# One text for Brazil, Mozambique, Angola and Portugal. A batch is “mistura”, the pre-blend “mistura pequena” (“pré-mistura”
# would be taken for a bought premix), a delivery “lote”. Lists are parted by semicolons: the comma stands inside numbers.
# Numbers and masses come in written out; a { $count } is a whole number.
# In doubt: Brazil would say “batida” for a batch; “aceito” or “aceite”.

## Numbers and days

range = { $low } a { $high }
at-least = no mínimo { $value }
at-most = no máximo { $value }
list-next = { $most }; { $next }
list-last = { $most } e { $last }
date = { $day } de { $month } de { $year }
month = { $month ->
    [1] janeiro
    [2] fevereiro
    [3] março
    [4] abril
    [5] maio
    [6] junho
    [7] julho
    [8] agosto
    [9] setembro
    [10] outubro
    [11] novembro
   *[12] dezembro
}
days = { $count ->
    [one] { $count } dia
   *[other] { $count } dias
}

## The head of a sheet

fact-mass = peso
fact-batch = esta mistura
fact-ordered = pedido
fact-group = para
fact-animal = animais
fact-day = dia
fact-written = escrito em
mass-in-batches = { $total }: { $count } misturas de { $each }
batch-of = mistura número { $number } de { $count }
batches-of = misturas número { $first } a { $last } de { $count }
times-over = { $heading } – para cada uma das { $count } misturas
draft = RASCUNHO
draft-asked = Não faça esta mistura: a folha foi pedida como rascunho.
draft-errors = Não faça esta mistura: { $count ->
    [one] { $count } erro
   *[other] { $count } erros
}, veja ENCONTRADO AO VERIFICAR.
defers = O rótulo do produto, o veterinário e a lei local sobre alimentos para animais decidem o que se dá aos animais. Este plano só diz como pesar e misturar.

## What to beware of

beware = CUIDADO
not-a-feed = NÃO DÊ AOS ANIMAIS TAL COMO ESTÁ
hazard-not-a-feed = NÃO DÊ AOS ANIMAIS TAL COMO ESTÁ: { $ration } serve para fazer outras rações e nunca se dá tal como está.
hazard-no-animal = { $ration } não diz para que animal é: não se verificou nem o perigo nem a lei.
hazard-medicated = Contém medicamento: misture por último, depois de todas as outras rações do dia. Antes de fazer qualquer outra ração, limpe o chão, os recipientes e as ferramentas, e depois passe por tudo, a seco, um ingrediente de base sem medicamento. Esse ingrediente é só para os animais que comem a ração com medicamento, ou para nenhum.
product-eggs = ovos
product-milk = leite
product-meat = carne
hazard-withdrawal = Contém medicamento: nada de “{ $product }” para as pessoas durante { $days } depois da última vez que os animais comeram esta ração. O rótulo, o veterinário e a lei local decidem.
hazard-keep-from = Nunca dê a este animal nem deixe ao alcance dele: { $animal }.
hazard-in = { $ingredient }: { $hazard }

## The order of the day

day-order = TRABALHO DO DIA, PELA ORDEM
day-sheet = folha
day-what = a misturar
day-mass = quanto
day-see-to = cuidado
day-clean = Contém medicamento: depois, limpe e passe a seco um ingrediente de base sem medicamento.
day-not-a-feed = Não dê aos animais tal como está: é só para misturar.

## The weighing table

weigh = PESE, pela ordem do trabalho
column-what = ingrediente
column-lot = lote
column-mass = quanto
column-scale = balança
column-range = pode marcar
column-done = feito
column-actual = peso lido
for-step = para o passo { $step }
no-scale = nenhuma serve
together = ao todo
on-top = { $ingredient }, além dos 100 %
in-loads = em { $count } pesagens: { $loads }; some os pesos lidos
loads-alike = { $count } vezes { $mass }
in-parts = { $ingredient }: { $parts } = { $whole }

## The steps

mix = MISTURE
mass-of = { $mass } de { $what }
the-mix = a mistura do passo { $step } ({ $mass })
the-preblend = a mistura pequena do passo { $step } ({ $mass })
the-heap = o monte do passo { $step } ({ $mass })
in-one = em um só recipiente “{ $vessel }”
in-the = no recipiente “{ $vessel }”
on-floor = no chão
put = Ponha { $where }: { $what }.
heap = Amontoe { $where }: { $what }.
heap-in-order = Amontoe { $where }, por esta ordem: { $what }.
work-in = Junte { $what } enquanto mexe.
lay-out = Estenda { $what } { $where }.
sprinkle = Espalhe { $what } por cima.
sprinkle-in-portions = { $count ->
    [one] Espalhe { $what } por cima, em { $count } vez.
   *[other] Divida { $what } em { $count } partes e espalhe as partes por cima, uma depois da outra.
}
stir = Misture.
turn = { $count ->
    [one] Vire tudo { $count } vez.
   *[other] Vire tudo { $count } vezes.
}
turn-until-even = Vire tudo até ficar igual em toda a parte.
this-is-preblend = Esta é a mistura pequena.
this-is-heap = Este é o monte.
this-is-batch = Esta é a mistura inteira.
sample-heap = Tire a amostra: faça um cone com o monte, achate-o, divida-o em quatro partes iguais e guarde para a amostra duas partes que fiquem frente a frente. Faça o mesmo com essas duas partes, até o que guardou caber no saco da amostra.
sample-feed = Tire a amostra: faça um cone com a mistura, achate-o, divida-o em quatro partes iguais e guarde para a amostra duas partes que fiquem frente a frente. Faça o mesmo com essas duas partes, até o que guardou caber no saco da amostra.
bag = Ponha em sacos e amarre uma etiqueta em cada saco: { $ration }, { $day }, número da mistura, lotes, quem misturou.
clean = Contém medicamento: antes de fazer qualquer outra ração, limpe o chão, os recipientes e as ferramentas, e depois passe por tudo, a seco, um ingrediente de base sem medicamento. Esse ingrediente é só para os animais que comem a ração com medicamento, ou para nenhum.

## The picture

picture = Como se faz a mistura
picture-step = passo { $step }
picture-floor = chão

## Totals

totals = TOTAIS de uma mistura

## Doses

doses = DOSES, e quanto podem variar para mais ou para menos (dois desvios-padrão)
column-dose = o quê
column-value = previsto
column-bound = permitido
column-batch = uma mistura
column-portion = uma porção
dose-of-product = { $ingredient }, dose
dose-of-active = { $ingredient }, dose de { $active }
bound-by-law = { $what }, segundo a lei
bound-by-harm = { $what }, fora deste limite faz mal
dose-allowed = permitido { $bound }
dose-batch = uma mistura { $range }
dose-portion = uma porção { $range }

## What was found

found = ENCONTRADO AO VERIFICAR
severity-error = erro
severity-warning = aviso
severity-note = nota
accepted = aceito
reason = motivo: { $text }
help = ajuda: { $text }

## The label

label = ETIQUETA, para recortar
label-mixed = misturado em
label-keeps = conserva-se até
label-keeps-value = { $date } ({ $days })
label-animals = para
label-head = { $animal }: { $head }
label-lots = lotes
label-lot = { $ingredient } { $lot }
label-mixed-by = misturado por

## The page on a phone

page-mixed-by = misturado por
page-made = misturado em
page-text = Registo do que foi feito
page-not-weighed = não pesado
page-only-ticked = marcado, sem peso escrito
page-copy = Copiar para o caderno
page-copied = Copiado. Cole num texto da propriedade.
page-clear = Apagar as marcas e os pesos
page-clear-sure = Apagar todas as marcas e todos os pesos desta folha?
page-outside = fora de { $range }
page-unreadable = não é um número
page-left = linhas por pesar: { "{n}" }
page-all-done = Está tudo pesado.
page-not-kept = Esta página não consegue guardar as marcas: imprima-a ou não a feche.
page-print = Imprimir
page-text = Texto para o caderno
page-not-weighed = não pesado
page-only-ticked = marcado, sem peso escrito
