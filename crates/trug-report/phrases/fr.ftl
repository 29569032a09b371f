# The fixed words of the sheet, in French (fr). No native speaker has read them yet: corrections are welcome.
# Orders are infinitives. A batch is « mélange », the pre-blend « petit mélange » (« prémélange » would be taken for a bought
# premix), a delivery « lot ». Lists are parted by semicolons: the comma stands inside numbers.
# Numbers and masses come in written out; a { $count } is a whole number.
# In doubt: « de » before a vowel (« de huile »), and « mélange » for both a batch and what a step gives.

## Numbers and days

range = { $low } à { $high }
at-least = au minimum { $value }
at-most = au maximum { $value }
list-next = { $most } ; { $next }
list-last = { $most } et { $last }
date = { $day ->
    [1] { $day }er { $month } { $year }
   *[other] { $day } { $month } { $year }
}
month = { $month ->
    [1] janvier
    [2] février
    [3] mars
    [4] avril
    [5] mai
    [6] juin
    [7] juillet
    [8] août
    [9] septembre
    [10] octobre
    [11] novembre
   *[12] décembre
}
days = { $count ->
    [one] { $count } jour
   *[other] { $count } jours
}

## The head of a sheet

fact-mass = poids
fact-batch = ce mélange
fact-ordered = demandé
fact-group = pour
fact-animal = animaux
fact-day = jour
fact-written = écrit dans
mass-in-batches = { $total } : { $count } mélanges de { $each }
batch-of = mélange n° { $number } sur { $count }
batches-of = mélanges n° { $first } à { $last } sur { $count }
times-over = { $heading } – pour chacun des { $count } mélanges
draft = BROUILLON
draft-asked = Ne pas faire ce mélange : la feuille a été demandée comme brouillon.
draft-errors = Ne pas faire ce mélange : { $count ->
    [one] { $count } erreur
   *[other] { $count } erreurs
}, voir TROUVÉ AU CONTRÔLE.
defers = L'étiquette du produit, le vétérinaire et la loi locale sur les aliments pour animaux décident de ce qu'on donne aux animaux. Ce plan dit seulement comment le peser et le mélanger.

## What to beware of

beware = ATTENTION
not-a-feed = NE PAS DONNER TEL QUEL AUX ANIMAUX
hazard-not-a-feed = NE PAS DONNER TEL QUEL AUX ANIMAUX : { $ration } sert à faire d'autres rations et ne se donne jamais tel quel.
hazard-no-animal = { $ration } ne dit pas pour quel animal : ni le danger ni la loi n'ont été vérifiés.
hazard-medicated = Contient un médicament : le mélanger en dernier, après tous les autres aliments du jour. Avant de faire un autre aliment, nettoyer le sol, les récipients et les outils, puis y passer à sec un ingrédient de base seul, sans médicament. Cet ingrédient est seulement pour les animaux qui mangent l'aliment avec médicament, ou pour aucun.
product-eggs = œufs
product-milk = lait
product-meat = viande
hazard-withdrawal = Contient un médicament : pas de « { $product } » pour les gens pendant { $days } après la dernière fois que les animaux en ont mangé. L'étiquette, le vétérinaire et la loi locale décident.
hazard-keep-from = Ne jamais donner à cet animal ni laisser à sa portée : { $animal }.
hazard-in = { $ingredient } : { $hazard }

## The order of the day

day-order = TRAVAIL DU JOUR, DANS L'ORDRE
day-sheet = feuille
day-what = à mélanger
day-mass = combien
day-see-to = attention
day-clean = Contient un médicament : après ce mélange, nettoyer et passer à sec un ingrédient de base sans médicament.
day-not-a-feed = Ne pas donner tel quel aux animaux : sert seulement à mélanger.

## The weighing table

weigh = PESER, dans l'ordre du travail
column-what = ingrédient
column-lot = lot
column-mass = combien
column-scale = balance
column-range = peut marquer
column-done = fait
column-actual = poids lu
for-step = pour l'étape { $step }
no-scale = aucune ne va
together = en tout
on-top = { $ingredient }, en plus des 100 %
in-loads = en { $count } pesées : { $loads } ; additionner les poids lus
loads-alike = { $count } fois { $mass }
in-parts = { $ingredient } : { $parts } = { $whole }

## The steps

mix = MÉLANGER
mass-of = { $mass } de { $what }
the-mix = le mélange de l'étape { $step } ({ $mass })
the-preblend = le petit mélange de l'étape { $step } ({ $mass })
the-heap = le tas de l'étape { $step } ({ $mass })
in-one = dans un seul récipient « { $vessel } »
in-the = dans le récipient « { $vessel } »
on-floor = sur le sol
put = Mettre { $where } : { $what }.
heap = Mettre en tas { $where } : { $what }.
heap-in-order = Mettre en tas { $where }, dans cet ordre : { $what }.
work-in = Ajouter { $what } en remuant.
lay-out = Étaler { $what } { $where }.
sprinkle = Répandre { $what } par-dessus.
sprinkle-in-portions = { $count ->
    [one] Répandre { $what } par-dessus, en { $count } fois.
   *[other] Partager { $what } en { $count } parts et les répandre par-dessus, l'une après l'autre.
}
stir = Mélanger.
turn = Tout retourner { $count } fois.
turn-until-even = Tout retourner jusqu'à ce que ce soit pareil partout.
this-is-preblend = C'est le petit mélange.
this-is-heap = C'est le tas.
this-is-batch = C'est le mélange entier.
sample-heap = Prendre l'échantillon : faire un cône avec le tas, l'aplatir, le couper en quatre parts égales, garder pour l'échantillon deux parts face à face. Refaire la même chose avec ces deux parts, jusqu'à ce que ce qu'on garde tienne dans le sachet d'échantillon.
sample-feed = Prendre l'échantillon : faire un cône avec le mélange, l'aplatir, le couper en quatre parts égales, garder pour l'échantillon deux parts face à face. Refaire la même chose avec ces deux parts, jusqu'à ce que ce qu'on garde tienne dans le sachet d'échantillon.
bag = Mettre en sacs et attacher une étiquette à chaque sac : { $ration }, { $day }, numéro du mélange, lots, qui a mélangé.
clean = Contient un médicament : avant de faire un autre aliment, nettoyer le sol, les récipients et les outils, puis y passer à sec un ingrédient de base seul, sans médicament. Cet ingrédient est seulement pour les animaux qui mangent l'aliment avec médicament, ou pour aucun.

## The picture

picture = Comment se fait le mélange
picture-step = étape { $step }
picture-floor = sol

## Totals

totals = TOTAUX d'un mélange

## Doses

doses = DOSES, et de combien elles peuvent s'écarter en plus ou en moins (deux écarts-types)
column-dose = quoi
column-value = prévu
column-bound = permis
column-batch = un mélange
column-portion = une portion
dose-of-product = { $ingredient }, dose
dose-of-active = { $ingredient }, dose de { $active }
bound-by-law = { $what }, selon la loi
bound-by-harm = { $what }, danger hors de cette limite
dose-allowed = permis { $bound }
dose-batch = un mélange { $range }
dose-portion = une portion { $range }

## What was found

found = TROUVÉ AU CONTRÔLE
severity-error = erreur
severity-warning = avertissement
severity-note = remarque
accepted = accepté
reason = raison : { $text }
help = aide : { $text }

## The label

label = ÉTIQUETTE, à découper
label-mixed = mélangé le
label-keeps = se garde jusqu'au
label-keeps-value = { $date } ({ $days })
label-animals = pour
label-head = { $animal } : { $head }
label-lots = lots
label-lot = { $ingredient } { $lot }
label-mixed-by = mélangé par

## The page on a phone

page-mixed-by = mélangé par
page-made = mélangé le
page-text = Relevé de ce qui a été fait
page-not-weighed = pas pesé
page-only-ticked = coché, sans poids écrit
page-copy = Copier pour le cahier
page-copied = Copié. Le coller dans un fichier texte de la ferme.
page-clear = Effacer les coches et les poids
page-clear-sure = Effacer toutes les coches et tous les poids de cette feuille ?
page-outside = en dehors de { $range }
page-unreadable = ce n'est pas un nombre
page-left = lignes encore à peser : { "{n}" }
page-all-done = Tout est pesé.
page-not-kept = Cette page ne peut pas garder les coches : l'imprimer, ou ne pas la fermer.
page-print = Imprimer
page-text = Texte pour le cahier
page-not-weighed = non pesé
page-only-ticked = coché, aucun poids saisi
