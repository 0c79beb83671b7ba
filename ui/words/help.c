/* help.c - the topics of the help */
#include "ui/words/help.h"

#include <glib/gi18n-lib.h>

static const char *const of_steps[] = { N_ ("A measurement has eight steps. They tick themselves off as the bench comes to hold what each "
                                            "asks for, in any order. Shift+Enter goes to the next one."),
                                        NULL };

static const char *const of_first[] = {
  N_ ("You need a radio, a chain of pads that takes its power, a spectrum analyzer that can export its trace as a table, and a licence to "
      "key the radio."),
  N_ ("1. Make a new book (Ctrl+N). On the page Chain (Alt+2) add each part between the antenna socket and the analyzer, in order, with "
      "the loss on its label and "
      "the power that it takes. The staircase says whether anything would burn: go no further before it says no."),
  N_ ("2. Name the analyzer (Ctrl+Shift+B) and choose the mask, the rule that your radio is held to (Ctrl+B). What is not stated is taken "
      "wide, and U grows with it."),
  N_ ("3. Add the radio (Ctrl+Shift+N, or Insert in the list): its name, its frequency, its power. The page Range (Alt+3) says how to set "
      "the analyzer so that it "
      "sees below the limit. Many radios come as a list that is typed, pasted or brought from an earlier bench (Ctrl+T); the table of "
      "conditions (Ctrl+Shift+C) sets a power, a mask or a chain for many at once."),
  N_ ("4. Key the radio into the chain and take a sweep from below the carrier to beyond its 10th harmonic. Take a second one with 10 dB "
      "more attenuation, and a third "
      "with the key up. Export all three."),
  N_ ("5. Bring them in (Ctrl+I, or drop them on the window): say which one is keyed, which the step, which unkeyed. The verdict is there "
      "at once."),
  N_ ("6. Read it. W walks through it, from what the analyzer read to the word. Where it says not proven, the last step of that walk says "
      "what would settle it."),
  N_ ("7. The first verdict will be not proven as long as the losses are only labels: a label alone proves nothing. Measure each "
      "part by substitution (F6 on the page Chain) when you have a meter at hand. Or, where a data sheet states it, type the label's "
      "tolerance and the frequencies that it holds for on every part of the chain: the U is wider then."),
  NULL
};

static const char *const of_verdicts[] = { N_ ("A verdict is one of five words. It is given to each emission, and the worst of them to the "
                                               "condition. U is counted against the radio under the guarded rule; "
                                               "under the simple rule the level counts as it stands."),
                                           N_ ("An empty screen proves nothing by itself. It means something only where the floor lies "
                                               "below the limit: where it does not, the word is not proven, and the chart "
                                               "shows fog."),
                                           NULL };

static const char *const of_whose[] = {
  N_ ("What the screen shows need not be the radio's. A carrier that is too strong for the analyzer's mixer makes harmonics there that no "
      "radio sent, and broadcast "
      "stations come in through every open cable."),
  N_ ("More attenuation tells the first: with 10 dB more, what the radio sends stays where it is, once the attenuation is counted in. The "
      "analyzer's own 2nd harmonic "
      "falls by 10 dB, its 3rd by 20 dB. The key tells the second: what still stands with the key up is from the air."),
  N_ ("F4 shows what was found for the chosen emission. On the chart an emission has the mark of whose it is:"), NULL
};

static const char *const of_words[] = { N_ ("The words of this program, and what they mean here:"), NULL };

static const char *const of_cannot[] = {
  N_ ("It tells what one radio gave at its antenna socket, through a cable, into 50 ohm, on that day, with the settings named. It is no "
      "certificate and no approval."),
  N_ ("It says nothing of what an antenna radiates, of what leaves the case and the supply leads, of other radios of the same kind, of "
      "other bands and powers."),
  N_ ("It says nothing of what was not swept. It cannot see an emission that lasts shorter than a sweep, unless the sweep was held long "
      "enough to catch it."),
  N_ ("It believes what you state: a loss, an attenuation or a power that is wrong makes a verdict that is wrong. What it can check it "
      "does check, and says so under "
      "things to mind."),
  N_ ("Limits are quoted as help. The text of the rule, and your authority's reading of it, come first."),
  NULL
};

static const char *const of_cautions[] = {
  N_ ("Radio-frequency power burns the skin and is felt too late. Key only into the chain or a load, with every connector tight and nobody "
      "touching the line."),
  N_ ("A pad must be rated for the power that goes into it, and for how long. One that is over-rated in its place gets hot, changes, and "
      "fails without a sign."),
  N_ ("Then the analyzer's input burns: a few milliwatts too many end it. Put the pad that takes the power next to the radio, and check "
      "the order before each key-down."),
  N_ ("Do not connect a radio to the analyzer without a chain, not even at low power, not even for a moment."),
  N_ ("Do not transmit without a licence, into a load either where your rules ask for one. A licensed person keys."),
  N_ ("Local rules and the practice of licensed and qualified people come first, before anything that this program says."),
  NULL
};

static const char *const of_card[] = {
  N_ ("F11 shows the chosen radio over the whole window, dark and large, for whoever keys at the table's other side: what is to be done "
      "now, how "
      "long the key is down, how it stands, what is still wanted of it, and who is next. F11 or Escape goes back."),
  N_ ("Before a radio is keyed first, the cautions stand there: Space when they are read and seen to. Then Space says that what is asked "
      "for was "
      "keyed and exported: the next file is taken for just that, and the card goes on by itself as soon as the bench has it. Space once "
      "more "
      "takes that back. R says that the last sweep is taken again: the next file takes its place, and the earlier one stays, superseded. "
      "Right and "
      "Left show another radio; when a radio is done, Space shows the next."),
  N_ ("Watch the folder that the exports are written into (Ctrl+Shift+W) and nobody touches a dialog; or bring the file in with Ctrl+I."),
  N_ ("Red is kept for the limit and for what would burn: where the rated power would put more on a part than that takes, the card says do "
      "not "
      "key, and of the next radio it says so before it is connected. It knows only the ratings that somebody stated."),
  N_ ("A sweep's time is the profile's or an earlier sweep's; where nobody knows it, it follows from span and RBW by common practice."),
  NULL
};

static const SpHelpTopic topics[] = {
  { "steps", N_ ("The job, eight steps"), of_steps },
  { "first", N_ ("Your first measurement, in ten minutes"), of_first },
  { "verdicts", N_ ("The five verdicts"), of_verdicts },
  { "whose", N_ ("Whose is it?"), of_whose },
  { "card", N_ ("The card for the table's other side"), of_card },
  { "words", N_ ("Glossary"), of_words },
  { "cannot", N_ ("What this cannot tell"), of_cannot },
  { "cautions", N_ ("Cautions"), of_cautions },
};

const SpHelpTopic *
sp_help_topics (guint *n)
{
  *n = G_N_ELEMENTS (topics);
  return topics;
}
