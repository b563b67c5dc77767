// SPDX-License-Identifier: GPL-3.0-or-later
// A visit as canonical JSON and back (declared in visit_store.h).
#include "core/storage/codes.h"
#include "core/storage/visit_store.h"

#include <QCryptographicHash>
#include <QHash>
#include <QJsonArray>
#include <QJsonDocument>

namespace keyround {

namespace {

// Exactly the key that was written; problemFromText() is for what people write.
std::optional<Problem> problemFromKey(const QString &key)
{
    static const QHash<QString, Problem> byKey = [] {
        QHash<QString, Problem> keys;
        for (const ProblemInfo &info : problemList()) {
            keys.insert(QString::fromLatin1(info.key), info.problem);
        }
        return keys;
    }();
    const auto found = byKey.find(key);
    return found == byKey.end() ? std::nullopt : std::optional<Problem>(*found);
}

constexpr QLatin1String torqueKey("torque_nm");

QJsonObject passJson(const Pass &pass)
{
    QJsonObject json{{QStringLiteral("direction"), storedKey(pass.direction)},
                     {QStringLiteral("quarter_turns"), pass.turns.value}};
    if (pass.torque) {
        json.insert(torqueKey, pass.torque->newtonMetres);
    }
    return json;
}

QJsonObject standingJson(const Standing &standing)
{
    QJsonObject json{{QStringLiteral("position"), storedKey(standing.position)}};
    if (standing.turnsFromClosed) {
        json.insert(QStringLiteral("quarter_turns_from_closed"), standing.turnsFromClosed->value);
    }
    return json;
}

QJsonObject momentJson(const Moment &moment)
{
    return {{QStringLiteral("utc_ms"), static_cast<qint64>(moment.utcMilliseconds)},
            {QStringLiteral("offset_s"), moment.offsetSeconds}};
}

// Reads the fields of one object, remembering the first that is not as it should be.
class Reader
{
public:
    explicit Reader(QJsonObject json) : m_json(std::move(json)) {}

    QJsonValue take(const QString &key, QJsonValue::Type type)
    {
        QJsonValue value = m_json.value(key);
        if (value.type() != type && m_bad.isEmpty()) {
            m_bad = key;
        }
        return value;
    }
    QString text(const QString &key) { return take(key, QJsonValue::String).toString(); }
    int integer(const QString &key) { return take(key, QJsonValue::Double).toInt(); }
    Reader object(const QString &key) { return Reader(take(key, QJsonValue::Object).toObject()); }
    QJsonArray array(const QString &key) { return take(key, QJsonValue::Array).toArray(); }
    bool has(const QString &key) const { return m_json.contains(key); }
    template <typename Kind> Kind kind(const QString &key)
    {
        Kind value{};
        check(fromKey(text(key), value).has_value(), key);
        return value;
    }
    QUuid id(const QString &key)
    {
        const QString stored = text(key);
        const QUuid uuid = QUuid::fromString(stored);
        check(stored.isEmpty() || !uuid.isNull(), key);
        return uuid;
    }
    Moment moment(const QString &key)
    {
        Reader inner = object(key);
        const Moment moment{inner.take(QStringLiteral("utc_ms"), QJsonValue::Double).toInteger(),
                            inner.integer(QStringLiteral("offset_s"))};
        check(inner.bad().isEmpty(), key);
        return moment;
    }
    Standing standing(const QString &key)
    {
        const QString turns = QStringLiteral("quarter_turns_from_closed");
        Reader inner = object(key);
        Standing standing{inner.kind<Position>(QStringLiteral("position")), std::nullopt};
        if (inner.has(turns)) {
            standing.turnsFromClosed = QuarterTurns{inner.integer(turns)};
        }
        check(inner.bad().isEmpty(), key);
        return standing;
    }
    void check(bool good, const QString &key)
    {
        if (!good && m_bad.isEmpty()) {
            m_bad = key;
        }
    }
    const QString &bad() const { return m_bad; }

private:
    QJsonObject m_json;
    QString m_bad;
};

void readPasses(Reader &reader, Visit &visit)
{
    const QString key = QStringLiteral("passes");
    const QJsonArray passes = reader.array(key);
    for (const auto &value : passes) {
        Reader inner(value.toObject());
        Pass pass{inner.kind<PassDirection>(QStringLiteral("direction")),
                  QuarterTurns{inner.integer(QStringLiteral("quarter_turns"))}};
        if (inner.has(torqueKey)) {
            pass.torque = Torque{inner.take(torqueKey, QJsonValue::Double).toDouble()};
        }
        visit.passes.push_back(pass);
        reader.check(inner.bad().isEmpty(), key);
    }
}

void readProblems(Reader &reader, Visit &visit)
{
    const QString key = QStringLiteral("problems");
    const QJsonArray problems = reader.array(key);
    for (const auto &value : problems) {
        const std::optional<Problem> problem = problemFromKey(value.toString());
        reader.check(problem.has_value(), key);
        if (problem) {
            visit.problems << *problem;
        }
    }
}

// What later versions have added: a key stands there only when it says something, so that what was
// recorded before keeps its text and its hash.
void addDetails(const Visit &visit, QJsonObject &json)
{
    if (!visit.ownProblems.isEmpty()) {
        json.insert(QStringLiteral("own_problems"), QJsonArray::fromStringList(visit.ownProblems));
    }
    if (visit.search) {
        json.insert(QStringLiteral("search"), toJson(*visit.search));
    }
    if (visit.lid) {
        json.insert(QStringLiteral("lid"), keyFor(*visit.lid));
    }
    if (visit.box) {
        json.insert(QStringLiteral("box"), keyFor(*visit.box));
    }
    if (visit.lidFix) {
        json.insert(QStringLiteral("lid_fix"), toJson(*visit.lidFix));
    }
    if (visit.setUpStood) {
        json.insert(QStringLiteral("set_up_stood"), toJson(*visit.setUpStood));
    }
}

void readOwnProblems(Reader &reader, Visit &visit)
{
    const QString key = QStringLiteral("own_problems");
    if (!reader.has(key)) {
        return;
    }
    for (const auto &value : reader.array(key)) {
        reader.check(value.isString() && !value.toString().isEmpty(), key);
        visit.ownProblems << value.toString();
    }
}

void readDetails(Reader &reader, Visit &visit)
{
    readOwnProblems(reader, visit);
    const auto take = [&reader](const QString &key, QJsonValue::Type type, auto &target,
                                auto read) {
        if (reader.has(key)) {
            target = read(reader.take(key, type));
            reader.check(target.has_value(), key);
        }
    };
    take(QStringLiteral("search"), QJsonValue::Object, visit.search,
         [](const QJsonValue &json) { return searchRecordFromJson(json.toObject()); });
    take(QStringLiteral("lid"), QJsonValue::String, visit.lid,
         [](const QJsonValue &json) { return lidConditionFromKey(json.toString()); });
    take(QStringLiteral("box"), QJsonValue::String, visit.box,
         [](const QJsonValue &json) { return boxConditionFromKey(json.toString()); });
    take(QStringLiteral("lid_fix"), QJsonValue::Object, visit.lidFix,
         [](const QJsonValue &json) { return lidFixFromJson(json.toObject()); });
    take(QStringLiteral("set_up_stood"), QJsonValue::Object, visit.setUpStood,
         [](const QJsonValue &json) { return setUpStoodFromJson(json.toObject()); });
}

} // namespace

QByteArray canonicalJson(const Visit &visit)
{
    QJsonArray passes;
    for (const Pass &pass : visit.passes) {
        passes << passJson(pass);
    }
    QJsonArray problems;
    for (const Problem problem : visit.problems) {
        problems << QString::fromLatin1(infoOf(problem).key);
    }
    // QJsonObject keeps its keys sorted. The stamp is text: it needs more digits than a double has.
    QJsonObject json{
        {QStringLiteral("id"), idColumn(visit.id.uuid)},
        {QStringLiteral("valve"), idColumn(visit.valve.uuid)},
        {QStringLiteral("round"), idColumn(visit.round.uuid)},
        {QStringLiteral("arrived"), momentJson(visit.arrived)},
        {QStringLiteral("finished"), momentJson(visit.finished)},
        {QStringLiteral("crew"), visit.crew},
        {QStringLiteral("found"), standingJson(visit.found)},
        {QStringLiteral("left"), standingJson(visit.left)},
        {QStringLiteral("passes"), passes},
        {QStringLiteral("problems"), problems},
        {QStringLiteral("other_problem"), visit.otherProblem},
        {QStringLiteral("remarks"), visit.remarks},
        {QStringLiteral("supersedes"), idColumn(visit.supersedes.uuid)},
        {QStringLiteral("reason"), visit.reason},
        {QStringLiteral("recorded_by"), visit.recordedBy},
        {QStringLiteral("device"), visit.device},
        {QStringLiteral("stamp"), QString::number(visit.stamp.value)},
    };
    addDetails(visit, json);
    return QJsonDocument(json).toJson(QJsonDocument::Compact);
}

Result<Visit> visitFromJson(const QByteArray &json)
{
    Reader reader(QJsonDocument::fromJson(json).object());
    Visit visit;
    visit.id = VisitId{reader.id(QStringLiteral("id"))};
    visit.valve = ValveId{reader.id(QStringLiteral("valve"))};
    visit.round = RoundId{reader.id(QStringLiteral("round"))};
    visit.arrived = reader.moment(QStringLiteral("arrived"));
    visit.finished = reader.moment(QStringLiteral("finished"));
    visit.crew = reader.text(QStringLiteral("crew"));
    visit.found = reader.standing(QStringLiteral("found"));
    visit.left = reader.standing(QStringLiteral("left"));
    readPasses(reader, visit);
    readProblems(reader, visit);
    visit.otherProblem = reader.text(QStringLiteral("other_problem"));
    visit.remarks = reader.text(QStringLiteral("remarks"));
    visit.supersedes = VisitId{reader.id(QStringLiteral("supersedes"))};
    visit.reason = reader.text(QStringLiteral("reason"));
    visit.recordedBy = reader.text(QStringLiteral("recorded_by"));
    visit.device = reader.text(QStringLiteral("device"));
    readDetails(reader, visit);
    bool isNumber = false;
    visit.stamp.value = reader.text(QStringLiteral("stamp")).toULongLong(&isNumber);
    reader.check(isNumber, QStringLiteral("stamp"));
    if (!reader.bad().isEmpty()) {
        return fail(ErrorCode::Damaged, QStringLiteral("A visit's content cannot be read (its "
                                                       "\"%1\"). Open the newest back-up.")
                                            .arg(reader.bad()));
    }
    return visit;
}

QString contentHash(const Visit &visit)
{
    return QString::fromLatin1(
        QCryptographicHash::hash(canonicalJson(visit), QCryptographicHash::Sha256).toHex());
}

} // namespace keyround
