// SPDX-License-Identifier: GPL-3.0-or-later
// The JSON of a half-typed stop. Reading refuses what it does not know rather than guessing: a
// guessed count would look like one that somebody made.
#include "app/truck/stop_form.h"

#include <QJsonArray>
#include <QObject>

#include <array>
#include <utility>

namespace keyround {

namespace {

constexpr int formatNumber = 1;
constexpr std::array<const char *, stopStepCount> stepKeys{
    "get_there", "set_up", "found", "turn", "judge", "problems", "leave", "finish"};
constexpr std::array<const char *, 4> positionKeys{"not_seen", "open", "closed", "part_open"};

template <std::size_t count>
std::optional<int> indexOf(const std::array<const char *, count> &keys, const QString &key)
{
    for (std::size_t i = 0; i < count; ++i) {
        if (key == QLatin1String(keys[i])) {
            return static_cast<int>(i);
        }
    }
    return std::nullopt;
}

QString keyOf(Position position)
{
    return QLatin1String(positionKeys[static_cast<std::size_t>(position)]);
}

/// Reads fields one after another and remembers the first that cannot be read.
class Reader
{
public:
    explicit Reader(QJsonObject json) : m_json(std::move(json)) {}

    [[nodiscard]] QString text(const QString &name)
    {
        const QJsonValue value = m_json.value(name);
        refuseUnless(value.isUndefined() || value.isString(), name);
        return value.toString();
    }
    [[nodiscard]] bool truth(const QString &name, bool fallback)
    {
        const QJsonValue value = m_json.value(name);
        refuseUnless(value.isUndefined() || value.isBool(), name);
        return value.toBool(fallback);
    }
    [[nodiscard]] int whole(const QString &name)
    {
        const QJsonValue value = m_json.value(name);
        const int read = value.toInt(-1);
        refuseUnless(value.isDouble() && read >= 0, name);
        return read;
    }
    [[nodiscard]] QJsonArray list(const QString &name)
    {
        const QJsonValue value = m_json.value(name);
        refuseUnless(value.isUndefined() || value.isArray(), name);
        return value.toArray();
    }
    [[nodiscard]] Moment moment(const QString &name)
    {
        const QString written = text(name);
        const Moment read = written.isEmpty() ? Moment{} : Moment::fromIso(written);
        refuseUnless(written.isEmpty() || !read.isNull(), name);
        return read;
    }
    [[nodiscard]] std::optional<Position> position(const QString &name)
    {
        const QString key = text(name);
        if (key.isEmpty()) {
            return std::nullopt;
        }
        const auto index = indexOf(positionKeys, key);
        refuseUnless(index.has_value(), name);
        return static_cast<Position>(index.value_or(0));
    }
    void refuseUnless(bool good, const QString &name)
    {
        if (!good && m_refused.isEmpty()) {
            m_refused = name;
        }
    }
    [[nodiscard]] QString refused() const { return m_refused; }

private:
    QJsonObject m_json;
    QString m_refused;
};

CountedPass passFrom(const QJsonObject &json, Reader &outer)
{
    Reader reader(json);
    CountedPass pass;
    const QString direction = reader.text(QStringLiteral("direction"));
    reader.refuseUnless(direction == QLatin1String("closing") ||
                            direction == QLatin1String("opening"),
                        QStringLiteral("direction"));
    pass.direction =
        direction == QLatin1String("opening") ? PassDirection::Opening : PassDirection::Closing;
    pass.turns.value = reader.whole(QStringLiteral("quarters"));
    pass.taps = reader.text(QStringLiteral("taps"));
    pass.begun = reader.moment(QStringLiteral("begun"));
    pass.lastTap = reader.moment(QStringLiteral("last_tap"));
    if (json.contains(QStringLiteral("torque_nm"))) {
        const QJsonValue torque = json.value(QStringLiteral("torque_nm"));
        reader.refuseUnless(torque.isDouble() && torque.toDouble() > 0,
                            QStringLiteral("torque_nm"));
        pass.torque = Torque{torque.toDouble()};
    }
    outer.refuseUnless(reader.refused().isEmpty(), QStringLiteral("passes"));
    return pass;
}

std::optional<Correction> correctionFrom(const QJsonObject &json, Reader &outer)
{
    Reader reader(json);
    Correction correction;
    correction.supersedes = VisitId::fromText(reader.text(QStringLiteral("supersedes")));
    reader.refuseUnless(!correction.supersedes.isNull(), QStringLiteral("supersedes"));
    correction.who = reader.text(QStringLiteral("who"));
    correction.why = reader.text(QStringLiteral("why"));
    correction.finished = reader.moment(QStringLiteral("finished"));
    correction.crew = reader.text(QStringLiteral("crew"));
    outer.refuseUnless(reader.refused().isEmpty(), QStringLiteral("correction"));
    return correction;
}

QJsonObject toJson(const Correction &correction)
{
    return {{QStringLiteral("supersedes"), correction.supersedes.text()},
            {QStringLiteral("who"), correction.who},
            {QStringLiteral("why"), correction.why},
            {QStringLiteral("finished"), correction.finished.iso()},
            {QStringLiteral("crew"), correction.crew}};
}

QJsonArray passesJson(const StopForm &form)
{
    QJsonArray passes;
    for (const CountedPass &pass : form.passes) {
        const bool closing = pass.direction == PassDirection::Closing;
        QJsonObject json{{QStringLiteral("direction"),
                          closing ? QStringLiteral("closing") : QStringLiteral("opening")},
                         {QStringLiteral("quarters"), pass.turns.value},
                         {QStringLiteral("taps"), pass.taps}};
        if (!pass.begun.isNull()) {
            json.insert(QStringLiteral("begun"), pass.begun.iso());
            json.insert(QStringLiteral("last_tap"), pass.lastTap.iso());
        }
        if (pass.torque) {
            json.insert(QStringLiteral("torque_nm"), pass.torque->newtonMetres);
        }
        passes.append(json);
    }
    return passes;
}

/// What need not have been said: a key is there only where it was.
void insertDetails(const StopForm &form, QJsonObject &json)
{
    if (form.search) {
        json.insert(QStringLiteral("search"), toJson(*form.search));
    }
    if (form.lid) {
        json.insert(QStringLiteral("lid"), keyFor(*form.lid));
    }
    if (form.box) {
        json.insert(QStringLiteral("box"), keyFor(*form.box));
    }
    if (form.lidFix) {
        json.insert(QStringLiteral("lid_fix"), toJson(*form.lidFix));
    }
    if (form.newListedTurns) {
        json.insert(QStringLiteral("new_listed_quarters"), form.newListedTurns->value);
    }
}

void readDetails(const QJsonObject &json, Reader &reader, StopForm &form)
{
    const auto take = [&](const QString &key, auto &target, auto read) {
        if (json.contains(key)) {
            target = read(json.value(key));
            reader.refuseUnless(target.has_value(), key);
        }
    };
    take(QStringLiteral("search"), form.search,
         [](const QJsonValue &value) { return searchRecordFromJson(value.toObject()); });
    take(QStringLiteral("lid"), form.lid,
         [](const QJsonValue &value) { return lidConditionFromKey(value.toString()); });
    take(QStringLiteral("box"), form.box,
         [](const QJsonValue &value) { return boxConditionFromKey(value.toString()); });
    take(QStringLiteral("lid_fix"), form.lidFix,
         [](const QJsonValue &value) { return lidFixFromJson(value.toObject()); });
    take(QStringLiteral("new_listed_quarters"), form.newListedTurns,
         [](const QJsonValue &value) -> std::optional<QuarterTurns> {
             const int quarters = value.toInt(-1);
             return quarters > 0 ? std::optional(QuarterTurns{quarters}) : std::nullopt;
         });
    for (const auto &words : reader.list(QStringLiteral("own_problems"))) {
        reader.refuseUnless(words.isString(), QStringLiteral("own_problems"));
        form.ownProblems.append(words.toString());
    }
}

} // namespace

QJsonObject toJson(const StopForm &form)
{
    QJsonArray problems;
    for (const Problem problem : form.problems) {
        problems.append(QLatin1String(infoOf(problem).key));
    }
    QJsonObject json{
        {QStringLiteral("format"), formatNumber},
        {QStringLiteral("step"), QLatin1String(stepKeys[static_cast<std::size_t>(form.step)])},
        {QStringLiteral("focus"), form.focus},
        {QStringLiteral("on_screen"), form.onScreen},
        {QStringLiteral("arrived"), form.arrived.isNull() ? QString() : form.arrived.iso()},
        {QStringLiteral("is_set_up"), form.isSetUp},
        {QStringLiteral("set_up_words"), form.setUpWords},
        {QStringLiteral("found_turns"), form.foundTurns},
        {QStringLiteral("passes"), passesJson(form)},
        {QStringLiteral("typing"), form.typing},
        {QStringLiteral("typed"), form.typed},
        {QStringLiteral("typing_torque"), form.typingTorque},
        {QStringLiteral("typed_torque"), form.typedTorque},
        {QStringLiteral("problems"), problems},
        {QStringLiteral("other_problem"), form.otherProblem},
        {QStringLiteral("own_problems"), QJsonArray::fromStringList(form.ownProblems)},
        {QStringLiteral("left_turns"), form.leftTurns},
        {QStringLiteral("remarks"), form.remarks}};
    if (form.found) {
        json.insert(QStringLiteral("found"), keyOf(*form.found));
    }
    if (form.left) {
        json.insert(QStringLiteral("left"), keyOf(*form.left));
    }
    insertDetails(form, json);
    if (form.correction) {
        json.insert(QStringLiteral("correction"), toJson(*form.correction));
    }
    return json;
}

Result<StopForm> stopFormFromJson(const QJsonObject &json)
{
    Reader reader(json);
    StopForm form;
    reader.refuseUnless(reader.whole(QStringLiteral("format")) == formatNumber,
                        QStringLiteral("format"));
    const auto step = indexOf(stepKeys, reader.text(QStringLiteral("step")));
    reader.refuseUnless(step.has_value(), QStringLiteral("step"));
    form.step = static_cast<StopStep>(step.value_or(0));
    form.focus = reader.text(QStringLiteral("focus"));
    form.onScreen = reader.truth(QStringLiteral("on_screen"), true);
    form.arrived = reader.moment(QStringLiteral("arrived"));
    form.isSetUp = reader.truth(QStringLiteral("is_set_up"), false);
    form.setUpWords = reader.text(QStringLiteral("set_up_words"));
    readDetails(json, reader, form);
    form.found = reader.position(QStringLiteral("found"));
    form.foundTurns = reader.text(QStringLiteral("found_turns"));
    for (const auto &pass : reader.list(QStringLiteral("passes"))) {
        form.passes.push_back(passFrom(pass.toObject(), reader));
    }
    form.typing = reader.truth(QStringLiteral("typing"), false);
    form.typed = reader.text(QStringLiteral("typed"));
    form.typingTorque = reader.truth(QStringLiteral("typing_torque"), false);
    form.typedTorque = reader.text(QStringLiteral("typed_torque"));
    for (const auto &key : reader.list(QStringLiteral("problems"))) {
        const auto problem = problemFromText(key.toString());
        reader.refuseUnless(problem.has_value(), QStringLiteral("problems"));
        form.problems.append(problem.value_or(Problem::Other));
    }
    form.otherProblem = reader.text(QStringLiteral("other_problem"));
    form.left = reader.position(QStringLiteral("left"));
    form.leftTurns = reader.text(QStringLiteral("left_turns"));
    form.remarks = reader.text(QStringLiteral("remarks"));
    if (json.contains(QStringLiteral("correction"))) {
        form.correction =
            correctionFrom(json.value(QStringLiteral("correction")).toObject(), reader);
    }
    if (!reader.refused().isEmpty()) {
        return fail(ErrorCode::Damaged,
                    QObject::tr("A half-typed stop cannot be read back: its field \"%1\" is not "
                                "what this program writes. Record the stop again.")
                        .arg(reader.refused()));
    }
    return form;
}

} // namespace keyround
