# The fixed words of the sheet, in Swahili (sw). No native speaker has read them yet: corrections are welcome.
# A batch is “awamu”, the pre-blend “mchanganyiko mdogo” (a bought premix stays “premix”), a delivery “mzigo”. “Pima kwa
# mizani”, not “pima” alone, which is also measuring with a tin.
# Numbers and masses come in written out; a { $count } is a whole number.
# In doubt: awamu (batch), mzigo (delivery), “mikengeuko sanifu”, “mlo mmoja” (portion), “120 g za” (1 kg wants “ya”).

## Numbers and days

range = { $low } hadi { $high }
at-least = isipungue { $value }
at-most = isizidi { $value }
list-next = { $most }, { $next }
list-last = { $most } na { $last }
date = { $day } { $month } { $year }
month = { $month ->
    [1] Januari
    [2] Februari
    [3] Machi
    [4] Aprili
    [5] Mei
    [6] Juni
    [7] Julai
    [8] Agosti
    [9] Septemba
    [10] Oktoba
    [11] Novemba
   *[12] Desemba
}
days = siku { $count }

## The head of a sheet

fact-mass = uzito
fact-batch = awamu hii
fact-ordered = ulioagizwa
fact-group = kwa
fact-animal = mifugo
fact-day = tarehe
fact-written = imeandikwa kwenye
mass-in-batches = { $total }: awamu { $count }, kila awamu { $each }
batch-of = awamu ya { $number } kati ya { $count }
batches-of = awamu ya { $first } hadi ya { $last } kati ya { $count }
times-over = { $heading } – fanya kwa kila awamu, jumla awamu { $count }
draft = RASIMU, USICHANGANYE
draft-asked = Usichanganye kwa karatasi hii: imeombwa iwe rasimu tu.
draft-errors = Usichanganye kwa karatasi hii: { $count ->
    [one] kosa { $count }
   *[other] makosa { $count }
}, angalia YALIYOBAINIKA.
defers = Lebo ya bidhaa, daktari wa mifugo na sheria ya eneo lako kuhusu vyakula vya mifugo ndivyo vinavyoamua mifugo ilishwe nini. Mpango huu unaeleza tu jinsi ya kukipima kwa mizani na kukichanganya.

## What to beware of

beware = TAHADHARI
not-a-feed = USILISHE KAMA ILIVYO
hazard-not-a-feed = USILISHE KAMA ILIVYO: { $ration } ni ya kuchanganya kwenye vyakula vingine, kamwe mifugo isile hii peke yake.
hazard-no-animal = { $ration } haisemi ni ya mnyama gani: madhara na sheria havikuangaliwa.
hazard-medicated = Kuna dawa ndani: changanya hii mwisho, baada ya vyakula vingine vyote vya siku hiyo. Kabla ya kutengeneza chakula kingine chochote, safisha sakafu, vyombo na zana, kisha pitisha hapo kiungo kikuu kikavu kisicho na dawa. Kiungo hicho kiliwe tu na mifugo inayokula chakula chenye dawa, au kisiliwe na mifugo yoyote.
product-eggs = mayai
product-milk = maziwa
product-meat = nyama
hazard-withdrawal = Kuna dawa ndani: watu wasitumie { $product } kwa muda wa { $days } baada ya mifugo kula chakula hiki mara ya mwisho. Lebo, daktari wa mifugo na sheria ya eneo lako ndivyo vinavyoamua.
hazard-keep-from = Usimpe kamwe mnyama huyu, wala usiache karibu naye: { $animal }.
hazard-in = { $ingredient }: { $hazard }

## The order of the day

day-order = KAZI ZA SIKU, KWA MFUATANO
day-sheet = karatasi
day-what = mchanganyiko
day-mass = kiasi
day-see-to = zingatia
day-clean = Kuna dawa ndani: ukimaliza, safisha na upitishe kiungo kikuu kikavu kisicho na dawa.
day-not-a-feed = Usilishe kama ilivyo: ni ya kuchanganya tu.

## The weighing table

weigh = PIMA KWA MIZANI, kwa mfuatano wa kazi
column-what = kiungo
column-lot = mzigo na.
column-mass = uzito
column-scale = mizani
column-range = mizani isome
column-done = tayari
column-actual = uzito halisi
for-step = kwa hatua ya { $step }
no-scale = hakuna ifaayo
together = jumla
on-top = { $ingredient }, nyongeza juu ya 100 %
in-loads = gawa, upime mara { $count }: { $loads }; jumlisha uzito wa mara zote
loads-alike = { $mass } mara { $count }
in-parts = { $ingredient }: { $parts } = { $whole }

## The steps

mix = CHANGANYA
mass-of = { $mass } za { $what }
the-mix = mchanganyiko wa hatua ya { $step } ({ $mass })
the-preblend = mchanganyiko mdogo wa hatua ya { $step } ({ $mass })
the-heap = lundo la hatua ya { $step } ({ $mass })
in-one = kwenye chombo kimoja “{ $vessel }”
in-the = kwenye chombo “{ $vessel }”
on-floor = sakafuni
put = Weka { $where }: { $what }.
heap = Rundika { $where }: { $what }.
heap-in-order = Rundika { $where }, kwa mfuatano huu: { $what }.
work-in = Ongeza { $what } huku ukichanganya.
lay-out = Tandaza { $what } { $where }.
sprinkle = Nyunyiza { $what } juu yake.
sprinkle-in-portions = { $count ->
    [one] Nyunyiza { $what } juu yake, kwa fungu { $count }.
   *[other] Gawa { $what } katika mafungu { $count }, uyanyunyize juu yake, fungu moja baada ya jingine.
}
stir = Changanya.
turn = Geuza yote mara { $count }.
turn-until-even = Geuza yote hadi iwe sawa kila mahali.
this-is-preblend = Huu ndio mchanganyiko mdogo.
this-is-heap = Hili ndilo lundo.
this-is-batch = Huu ndio mchanganyiko wote wa awamu hii.
sample-heap = Chukua sampuli: fanya lundo liwe na umbo la koni, lisawazishe liwe bapa, ligawe sehemu nne zilizo sawa, chukua sehemu mbili zinazotazamana ziwe za sampuli. Rudia hivyo kwa sehemu hizo mbili, hadi ulichobakiza kitoshe kwenye mfuko wa sampuli.
sample-feed = Chukua sampuli: fanya mchanganyiko uwe na umbo la koni, usawazishe uwe bapa, ugawe sehemu nne zilizo sawa, chukua sehemu mbili zinazotazamana ziwe za sampuli. Rudia hivyo kwa sehemu hizo mbili, hadi ulichobakiza kitoshe kwenye mfuko wa sampuli.
bag = Weka kwenye magunia, funga lebo kwenye kila gunia: { $ration }, { $day }, awamu, namba za mizigo, jina la aliyechanganya.
clean = Kuna dawa ndani: kabla ya kutengeneza chakula kingine chochote, safisha sakafu, vyombo na zana, kisha pitisha hapo kiungo kikuu kikavu kisicho na dawa. Kiungo hicho kiliwe tu na mifugo inayokula chakula chenye dawa, au kisiliwe na mifugo yoyote.

## The picture

picture = Jinsi awamu inavyochanganywa
picture-step = hatua ya { $step }
picture-floor = sakafu

## Totals

totals = JUMLA ya awamu moja

## Doses

doses = DOZI, na zinavyoweza kuzidi au kupungua (mikengeuko sanifu miwili)
column-dose = kitu
column-value = iliyopangwa
column-bound = inaruhusiwa
column-batch = awamu moja
column-portion = mlo mmoja
dose-of-product = { $ingredient }, dozi
dose-of-active = { $ingredient }, dozi ya { $active }
bound-by-law = { $what }, kisheria
bound-by-harm = { $what }, nje ya kiwango hiki inadhuru
dose-allowed = inaruhusiwa { $bound }
dose-batch = awamu moja { $range }
dose-portion = mlo mmoja { $range }

## What was found

found = YALIYOBAINIKA
severity-error = kosa
severity-warning = onyo
severity-note = dokezo
accepted = imekubaliwa
reason = sababu: { $text }
help = msaada: { $text }

## The label

label = LEBO, ya kukata
label-mixed = tarehe ya kuchanganya
label-keeps = hudumu hadi
label-keeps-value = { $date } ({ $days })
label-animals = kwa
label-head = { $animal }: { $head }
label-lots = mizigo
label-lot = { $ingredient } { $lot }
label-mixed-by = aliyechanganya

## The page on a phone

page-mixed-by = aliyechanganya
page-made = tarehe ya kuchanganya
page-text = Kumbukumbu ya kazi iliyofanywa
page-not-weighed = haijapimwa
page-only-ticked = imetiwa alama, uzito haukuandikwa
page-copy = Nakili kwa kumbukumbu
page-copied = Imenakiliwa. Ibandike kwenye faili la maandishi la shamba.
page-clear = Futa alama na uzito
page-clear-sure = Futa alama zote na uzito wote kwenye karatasi hii?
page-outside = nje ya { $range }
page-unreadable = si namba
page-left = vitu vya kupima vilivyobaki: { "{n}" }
page-all-done = Vyote vimepimwa.
page-not-kept = Ukurasa huu hauwezi kuhifadhi alama: uchapishe, au usiufunge.
page-print = Chapisha
page-text = Kumbukumbu
page-not-weighed = haijapimwa
page-only-ticked = imewekwa alama, uzito haukuandikwa
