# The fixed words of the sheet, in Hindi (hi). No native speaker has read them yet: corrections are welcome.
# A batch is “घान”, the pre-blend “छोटा मिश्रण” (a bought premix stays “प्रीमिक्स”), a delivery “खेप”, feed “दाना”, a dose
# “मात्रा”, what one animal eats a day “खुराक”.
# Numbers and masses come in written out; a { $count } is a whole number.
# In doubt: whether “घान” is known everywhere, “मुख्य माल” for bulk, and “खुराक”, which is also heard as a dose.

## Numbers and days

range = { $low } से { $high }
at-least = कम से कम { $value }
at-most = ज़्यादा से ज़्यादा { $value }
list-next = { $most }, { $next }
list-last = { $most } और { $last }
date = { $day } { $month } { $year }
month = { $month ->
    [1] जनवरी
    [2] फ़रवरी
    [3] मार्च
    [4] अप्रैल
    [5] मई
    [6] जून
    [7] जुलाई
    [8] अगस्त
    [9] सितंबर
    [10] अक्टूबर
    [11] नवंबर
   *[12] दिसंबर
}
days = { $count } दिन

## The head of a sheet

fact-mass = वज़न
fact-batch = यह घान
fact-ordered = माँगा गया
fact-group = किसके लिए
fact-animal = पशु-पक्षी
fact-day = तारीख
fact-written = कहाँ लिखा है
mass-in-batches = { $total }: { $count } घान, हर घान { $each }
batch-of = घान { $number }, कुल { $count } में से
batches-of = घान { $first } से { $last }, कुल { $count } में से
times-over = { $heading } – हर घान के लिए ऐसा करें, कुल { $count } घान
draft = कच्ची पर्ची, इससे न मिलाएँ
draft-asked = इस पर्ची से कुछ न मिलाएँ: इसे कच्ची पर्ची के रूप में ही माँगा गया था।
draft-errors = इस पर्ची से कुछ न मिलाएँ: { $count ->
    [one] { $count } गलती
   *[other] { $count } गलतियाँ
}, “जाँच में मिला” के नीचे देखें।
defers = क्या खिलाया जाए, यह पैकेट का लेबल, पशु-डॉक्टर और दाने-चारे का स्थानीय कानून तय करते हैं। यह योजना केवल बताती है कि उसे कैसे तौलें और मिलाएँ।

## What to beware of

beware = सावधान
not-a-feed = इसे ऐसे ही न खिलाएँ
hazard-not-a-feed = इसे ऐसे ही न खिलाएँ: { $ration } दूसरे दाने में मिलाने के लिए है, इसे अकेला कभी न खिलाएँ।
hazard-no-animal = { $ration } में नहीं लिखा कि यह किस पशु या पक्षी के लिए है: नुकसान और कानून की जाँच नहीं हुई।
hazard-medicated = इसमें दवा है: इसे सबसे आखिर में मिलाएँ, दिन के बाकी सब दानों के बाद। कोई भी दूसरा दाना बनाने से पहले फ़र्श, बर्तन और औज़ार साफ़ करें, फिर उन पर बिना दवा का सादा मुख्य माल सूखा ही फेरें। वह माल केवल उन्हीं को खिलाएँ जो दवा वाला दाना खाते हैं, या किसी को न खिलाएँ।
product-eggs = अंडे
product-milk = दूध
product-meat = मांस
hazard-withdrawal = इसमें दवा है: यह दाना आखिरी बार खिलाने के बाद { $days } तक { $product } लोगों को खाने-पीने के लिए न दें। लेबल, पशु-डॉक्टर और स्थानीय कानून तय करते हैं।
hazard-keep-from = { $animal } को कभी न खिलाएँ, उसकी पहुँच से दूर रखें।
hazard-in = { $ingredient }: { $hazard }

## The order of the day

day-order = दिन का काम, क्रम से
day-sheet = पर्ची
day-what = क्या मिलाएँ
day-mass = कितना
day-see-to = ध्यान दें
day-clean = इसमें दवा है: बाद में सफ़ाई करें और बिना दवा का मुख्य माल सूखा ही फेरें।
day-not-a-feed = इसे ऐसे ही न खिलाएँ: केवल मिलाने के लिए है।

## The weighing table

weigh = तौलें, काम के क्रम से
column-what = सामान
column-lot = खेप
column-mass = कितना
column-scale = तराज़ू
column-range = तराज़ू दिखाए
column-done = हो गया
column-actual = असल वज़न
for-step = चरण { $step } के लिए
no-scale = कोई ठीक नहीं
together = कुल
on-top = { $ingredient }, 100 % के अलावा
in-loads = { $count } बार में तौलें: { $loads }; तराज़ू पर दिखे सब वज़न जोड़ें
loads-alike = { $count } बार { $mass }
in-parts = { $ingredient }: { $parts } = { $whole }

## The steps

mix = मिलाएँ
mass-of = { $mass } { $what }
the-mix = चरण { $step } का मिश्रण ({ $mass })
the-preblend = चरण { $step } का छोटा मिश्रण ({ $mass })
the-heap = चरण { $step } का ढेर ({ $mass })
in-one = एक ही बर्तन “{ $vessel }” में
in-the = बर्तन “{ $vessel }” में
on-floor = फ़र्श पर
put = { $where } डालें: { $what }।
heap = { $where } ढेर लगाएँ: { $what }।
heap-in-order = { $where } इसी क्रम में ढेर लगाएँ: { $what }।
work-in = मिलाते हुए { $what } डालें।
lay-out = { $where } { $what } फैलाएँ।
sprinkle = उसके ऊपर { $what } छिड़कें।
sprinkle-in-portions = { $count ->
    [one] उसके ऊपर { $what } { $count } बार में छिड़कें।
   *[other] { $what } के { $count } हिस्से करें और उन्हें एक-एक करके उसके ऊपर छिड़कें।
}
stir = मिलाएँ।
turn = पूरा माल { $count } बार पलटें।
turn-until-even = पूरा माल तब तक पलटें, जब तक सब जगह एक जैसा न हो जाए।
this-is-preblend = यह छोटा मिश्रण है।
this-is-heap = यह ढेर है।
this-is-batch = यह पूरा घान है।
sample-heap = नमूना लें: ढेर को शंकु जैसा नुकीला बनाएँ, दबाकर चपटा करें, चार बराबर हिस्सों में बाँटें और आमने-सामने के दो हिस्से नमूने के लिए रखें। उन दो हिस्सों के साथ फिर यही करें, जब तक बचा हुआ नमूने की थैली में न समा जाए।
sample-feed = नमूना लें: मिश्रण को शंकु जैसा नुकीला बनाएँ, दबाकर चपटा करें, चार बराबर हिस्सों में बाँटें और आमने-सामने के दो हिस्से नमूने के लिए रखें। उन दो हिस्सों के साथ फिर यही करें, जब तक बचा हुआ नमूने की थैली में न समा जाए।
bag = बोरियों में भरें और हर बोरी पर लेबल बाँधें: { $ration }, { $day }, घान, खेप, किसने मिलाया।
clean = इसमें दवा है: कोई भी दूसरा दाना बनाने से पहले फ़र्श, बर्तन और औज़ार साफ़ करें, फिर उन पर बिना दवा का सादा मुख्य माल सूखा ही फेरें। वह माल केवल उन्हीं को खिलाएँ जो दवा वाला दाना खाते हैं, या किसी को न खिलाएँ।

## The picture

picture = घान कैसे बनता है
picture-step = चरण { $step }
picture-floor = फ़र्श

## Totals

totals = एक घान का जोड़

## Doses

doses = मात्राएँ, और वे कितनी कम-ज़्यादा हो सकती हैं (दो मानक विचलन)
column-dose = क्या
column-value = तय
column-bound = मान्य
column-batch = एक घान
column-portion = एक खुराक
dose-of-product = { $ingredient }, मात्रा
dose-of-active = { $ingredient }, { $active } की मात्रा
bound-by-law = { $what }, कानून से
bound-by-harm = { $what }, इस सीमा के बाहर नुकसान
dose-allowed = मान्य { $bound }
dose-batch = एक घान { $range }
dose-portion = एक खुराक { $range }

## What was found

found = जाँच में मिला
severity-error = गलती
severity-warning = चेतावनी
severity-note = सूचना
accepted = मंज़ूर
reason = कारण: { $text }
help = मदद: { $text }

## The label

label = लेबल, काटने के लिए
label-mixed = मिलाने की तारीख
label-keeps = कब तक टिकेगा
label-keeps-value = { $date } ({ $days })
label-animals = किसके लिए
label-head = { $animal }: { $head }
label-lots = खेप
label-lot = { $ingredient } { $lot }
label-mixed-by = किसने मिलाया

## The page on a phone

page-mixed-by = किसने मिलाया
page-made = मिलाने की तारीख
page-text = जो किया गया उसका लेखा
page-not-weighed = नहीं तौला
page-only-ticked = निशान लगा है, वज़न नहीं लिखा
page-copy = रिकॉर्ड के लिए कॉपी करें
page-copied = कॉपी हो गया। इसे फ़ार्म की फ़ाइल में पेस्ट करें।
page-clear = निशान और वज़न मिटाएँ
page-clear-sure = क्या इस पर्ची के सब निशान और वज़न मिटा दें?
page-outside = { $range } के बाहर
page-unreadable = यह संख्या नहीं है
page-left = तौलने को बाकी चीज़ें: { "{n}" }
page-all-done = सब तौल लिया गया।
page-not-kept = यह पेज निशान याद नहीं रख सकता: इसे छाप लें, या बंद न करें।
page-print = छापें
page-text = रिकॉर्ड
page-not-weighed = नहीं तौला
page-only-ticked = निशान लगा, वज़न नहीं लिखा
