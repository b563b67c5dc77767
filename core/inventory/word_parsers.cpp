// SPDX-License-Identifier: GPL-3.0-or-later
// The parsers of words: type, direction, position, role. The lists are plain words of the trade
// and their common shortenings (common practice, no source).
#include "core/inventory/value_parsers.h"

#include "core/inventory/text_forms.h"

#include <QRegularExpression>
#include <QSet>

#include <algorithm>
#include <initializer_list>

namespace keyround {

namespace {

bool hasAny(const QStringList &words, std::initializer_list<const char *> wanted)
{
    return std::any_of(wanted.begin(), wanted.end(),
                       [&words](const char *word) { return words.contains(QLatin1String(word)); });
}

bool hasPart(const QStringList &words, const char *part)
{
    return std::any_of(words.begin(), words.end(),
                       [part](const QString &word) { return word.contains(QLatin1String(part)); });
}

/// Words joined by spaces, to look for phrases in.
bool hasPhrase(const QStringList &words, const char *phrase)
{
    return QStringLiteral(" %1 ")
        .arg(words.join(QLatin1Char(' ')))
        .contains(QStringLiteral(" %1 ").arg(QLatin1String(phrase)));
}

bool isGeared(const QStringList &words)
{
    if (hasAny(words, {"ungeared", "nongeared"}) || hasPhrase(words, "not geared") ||
        hasPhrase(words, "no gear") || hasPhrase(words, "no gears") ||
        hasPhrase(words, "non geared")) {
        return false;
    }
    return hasPart(words, "gear") || hasAny(words, {"bevel", "spur", "bg", "ggv", "bggv"});
}

} // namespace

Result<std::optional<ValveType>> parseValveType(const QString &text)
{
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QStringList words = plainWords(text);
    if (hasAny(words, {"unknown", "unk", "unkn", "undetermined"}) ||
        hasPhrase(words, "not known")) {
        return ValveType::Unknown;
    }
    const bool geared = isGeared(words);
    const bool other = hasAny(words, {"other", "globe", "check", "cv", "needle", "cone", "knife",
                                      "prv", "psv", "altitude", "arv", "angle", "curb",
                                      "corporation", "corp", "pinch", "diaphragm"}) ||
                       hasPhrase(words, "air release") || hasPhrase(words, "pressure reducing") ||
                       hasPhrase(words, "air valve");
    const bool butterfly = hasPart(words, "butterfl") || hasPart(words, "bfly") ||
                           hasAny(words, {"bfv", "bf", "btfly", "bttrfly"}) ||
                           hasPhrase(words, "b fly");
    const bool ball = hasAny(words, {"ball", "ballvalve"});
    const bool plug = hasPart(words, "plug") || hasAny(words, {"pv", "epv"});
    const bool gate = hasPart(words, "gate") || hasPart(words, "wedge") ||
                      hasAny(words, {"sluice", "tapping"}) ||
                      hasAny(words, {"gv", "rsgv", "rwgv", "rwv", "rsv", "ddgv", "dd", "nrs",
                                     "os&y", "osy", "ggv", "bggv"}) ||
                      (hasPart(words, "resilient") && !butterfly && !plug && !ball) ||
                      hasPhrase(words, "double disc") || hasPhrase(words, "double disk");
    const int named = int(butterfly) + int(ball) + int(plug) + int(gate && !other);
    if (named > 1) {
        return fail(ErrorCode::BadInput, QStringLiteral("Valve type \"%1\" names more than one "
                                                        "type. Keep the one that is in the ground.")
                                             .arg(text.trimmed()));
    }
    if (butterfly) {
        return ValveType::Butterfly;
    }
    if (ball) {
        return ValveType::Ball;
    }
    if (plug) {
        return ValveType::Plug;
    }
    if (other) {
        return ValveType::Other;
    }
    if (gate || geared) {
        return geared ? ValveType::GearedGate : ValveType::Gate;
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("Valve type \"%1\" is not understood. Write gate, geared gate, "
                               "butterfly, ball, plug, other or unknown.")
                    .arg(text.trimmed()));
}

namespace {

enum class Verb { Open, Close };

struct DirectionWords
{
    QList<Verb> verbs;
    QList<ClosingDirection> ways; ///< as written, not yet turned round for "opens"
    bool understood = true;
};

DirectionWords directionWords(const QString &text)
{
    static const QRegularExpression counter(
        QStringLiteral("(?:counter|contra|anti)[ -]?(?:clockwise|clock)"));
    static const QSet<QString> left{QStringLiteral("l"),   QStringLiteral("left"),
                                    QStringLiteral("lh"),  QStringLiteral("ccw"),
                                    QStringLiteral("acw"), QStringLiteral("lefthand")};
    static const QSet<QString> right{QStringLiteral("r"),         QStringLiteral("right"),
                                     QStringLiteral("rh"),        QStringLiteral("cw"),
                                     QStringLiteral("clockwise"), QStringLiteral("righthand")};
    static const QSet<QString> opening{QStringLiteral("open"), QStringLiteral("opens"),
                                       QStringLiteral("opening"), QStringLiteral("o")};
    static const QSet<QString> closing{QStringLiteral("close"),   QStringLiteral("closes"),
                                       QStringLiteral("closing"), QStringLiteral("closed"),
                                       QStringLiteral("shut"),    QStringLiteral("shuts"),
                                       QStringLiteral("c")};
    static const QSet<QString> filler{QStringLiteral("to"),        QStringLiteral("hand"),
                                      QStringLiteral("turn"),      QStringLiteral("turns"),
                                      QStringLiteral("the"),       QStringLiteral("valve"),
                                      QStringLiteral("direction"), QStringLiteral("and"),
                                      QStringLiteral("turning"),   QStringLiteral("handed")};
    DirectionWords found;
    QString plain = plainText(text);
    plain.replace(counter, QStringLiteral("ccw"));
    plain.remove(QLatin1Char('.')); // C.C.W., L.H.
    for (const QString &word : plainWords(plain)) {
        if (word == QLatin1String("ol") || word == QLatin1String("or")) {
            found.verbs << Verb::Open;
            found.ways << (word == QLatin1String("ol") ? ClosingDirection::Counterclockwise
                                                       : ClosingDirection::Clockwise);
        } else if (left.contains(word)) {
            found.ways << ClosingDirection::Counterclockwise;
        } else if (right.contains(word)) {
            found.ways << ClosingDirection::Clockwise;
        } else if (opening.contains(word)) {
            found.verbs << Verb::Open;
        } else if (closing.contains(word)) {
            found.verbs << Verb::Close;
        } else if (!filler.contains(word)) {
            found.understood = false;
        }
    }
    return found;
}

} // namespace

Result<std::optional<ClosingDirection>> parseClosingDirection(const QString &text)
{
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const DirectionWords found = directionWords(text);
    const bool bothVerbs = found.verbs.contains(Verb::Open) && found.verbs.contains(Verb::Close);
    // "opens left, closes right" names a verb for each way; "opens left (ccw)" one for all.
    const bool paired = found.verbs.size() == found.ways.size();
    std::optional<ClosingDirection> closes;
    bool clear = found.understood && !found.ways.isEmpty() && (!bothVerbs || paired);
    for (qsizetype i = 0; clear && i < found.ways.size(); ++i) {
        const Verb verb = found.verbs.isEmpty() ? Verb::Close
                          : paired              ? found.verbs[i]
                                                : found.verbs.first();
        ClosingDirection way = found.ways[i];
        if (verb == Verb::Open) {
            way = way == ClosingDirection::Clockwise ? ClosingDirection::Counterclockwise
                                                     : ClosingDirection::Clockwise;
        }
        clear = !closes || *closes == way;
        closes = way;
    }
    if (!clear) {
        return fail(ErrorCode::BadInput,
                    QStringLiteral("Direction \"%1\" is not understood. Write the way it turns to "
                                   "close (clockwise or counterclockwise), or \"opens left\".")
                        .arg(text.trimmed()));
    }
    return closes;
}

Result<std::optional<NormalPosition>> parseNormalPosition(const QString &text)
{
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    QStringList words = plainWords(text);
    const QString joined = words.join(QString());
    // "NO" is the trade's normally open; "No" may answer a question nobody wrote down.
    const bool bareNo = text.trimmed().compare(QLatin1String("no"), Qt::CaseInsensitive) == 0;
    const bool capitals = text.trimmed() == QLatin1String("NO");
    static const QSet<QString> open{QStringLiteral("o"),
                                    QStringLiteral("open"),
                                    QStringLiteral("opened"),
                                    QStringLiteral("no"),
                                    QStringLiteral("nopen"),
                                    QStringLiteral("normopen"),
                                    QStringLiteral("normallyopen"),
                                    QStringLiteral("normalopen"),
                                    QStringLiteral("fullyopen"),
                                    QStringLiteral("fullopen")};
    static const QSet<QString> closed{QStringLiteral("c"),
                                      QStringLiteral("closed"),
                                      QStringLiteral("close"),
                                      QStringLiteral("shut"),
                                      QStringLiteral("nc"),
                                      QStringLiteral("nclosed"),
                                      QStringLiteral("normclosed"),
                                      QStringLiteral("normallyclosed"),
                                      QStringLiteral("normalclosed"),
                                      QStringLiteral("normallyshut"),
                                      QStringLiteral("fullyclosed"),
                                      QStringLiteral("fullclosed")};
    if (open.contains(joined) && (!bareNo || capitals)) {
        return NormalPosition::Open;
    }
    if (closed.contains(joined)) {
        return NormalPosition::Closed;
    }
    return fail(
        ErrorCode::BadInput,
        QStringLiteral("Normal position \"%1\" can be read in more than one way. Write open "
                       "or closed (NO and NC are taken too).")
            .arg(text.trimmed()));
}

Result<std::optional<ValveRole>> parseValveRole(const QString &text)
{
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QStringList words = plainWords(text);
    const QString joined = words.join(QString());
    if (hasPart(words, "hydrant") || hasAny(words, {"hyd", "hydr", "fh", "fhv", "hl"})) {
        return ValveRole::HydrantLead;
    }
    if (joined.startsWith(QLatin1String("fire")) || hasPart(words, "sprinkler") ||
        hasAny(words, {"fire", "fs", "fl"})) {
        return ValveRole::FireLine;
    }
    if (hasPart(words, "bypass") || hasPhrase(words, "by pass") || joined == QLatin1String("bp")) {
        return ValveRole::Bypass;
    }
    if (hasPart(words, "blowoff") || hasPhrase(words, "blow off") ||
        hasAny(words, {"bo", "washout", "scour", "drain", "flush", "flushing"})) {
        return ValveRole::BlowOff;
    }
    if (hasPart(words, "boundar") || hasPart(words, "division") ||
        hasAny(words, {"zone", "zonal", "bdy", "interzone"})) {
        return ValveRole::Boundary;
    }
    if (hasPart(words, "service") || hasAny(words, {"customer", "svc", "serv", "curb", "meter"})) {
        return ValveRole::Service;
    }
    if (hasPart(words, "main") || hasPart(words, "isolat") || hasPart(words, "distribution") ||
        hasPart(words, "transmission") ||
        hasAny(words, {"line", "inline", "system", "sectional", "sectionalizing", "dist", "ml"})) {
        return ValveRole::MainLine;
    }
    if (hasAny(words, {"other", "misc"})) {
        return ValveRole::Other;
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("Role \"%1\" is not understood. Write main line, hydrant lead, "
                               "boundary, blow-off, bypass, fire line, service or other.")
                    .arg(text.trimmed()));
}

Result<std::optional<SourceKind>> parseSourceKind(const QString &text)
{
    if (isBlankValue(text)) {
        return std::nullopt;
    }
    const QStringList words = plainWords(text);
    if (hasPart(words, "interconn") || hasAny(words, {"intertie", "interlink", "wholesale"}) ||
        hasPhrase(words, "inter connection")) {
        return SourceKind::Interconnection;
    }
    if (hasAny(words, {"tank", "tower", "standpipe", "reservoir", "est", "gst", "storage"})) {
        return SourceKind::Tank;
    }
    if (hasAny(words, {"well", "wellfield", "borehole"})) {
        return SourceKind::Well;
    }
    if (hasAny(words, {"plant", "wtp", "works", "treatment", "pump", "pumps", "pumping", "station",
                       "filter", "filtration"})) {
        return SourceKind::Plant;
    }
    return fail(ErrorCode::BadInput,
                QStringLiteral("\"%1\" is no kind of source that is known. Write plant, tank, well "
                               "or interconnection.")
                    .arg(text));
}

} // namespace keyround
