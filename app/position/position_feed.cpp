// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/position_feed.h"

#include "app/position/line_source.h"
#include "app/position/sentence_parser.h"

#include <QElapsedTimer>
#include <QGeoPositionInfoSource>

#include <algorithm>
#include <cmath>
#include <utility>

namespace keyround {

namespace {

constexpr std::size_t heardKept = 40;
constexpr int refusedBeforeTrouble = 10;
constexpr int watchMilliseconds = 1000;
constexpr int systemUpdateMilliseconds = 1000;

FixSource fixSourceOf(PositionSource source)
{
    switch (source) {
    case PositionSource::Log:
        return FixSource::Log;
    case PositionSource::System:
        return FixSource::System;
    case PositionSource::None:
    case PositionSource::Receiver:
        break;
    }
    return FixSource::Receiver;
}

} // namespace

class PositionFeed::Parts
{
public:
    Parts(PositionFeed &owner, std::function<Moment()> now) : feed(owner), wallNow(std::move(now))
    {
        started.start();
        steady = [this] { return std::int64_t(started.elapsed()); };
        watch.setInterval(watchMilliseconds);
        QObject::connect(&watch, &QTimer::timeout, &feed, &PositionFeed::changed);
    }

    void listenTo(std::unique_ptr<LineSource> source);
    void askSystem();
    void takeSystemFix(const QGeoPositionInfo &info);
    void keep(HeardLine line);

    PositionFeed &feed;
    std::function<Moment()> wallNow;
    std::function<std::int64_t()> steady;
    QElapsedTimer started;
    PositionHabits habits;
    FixTrack track{FixSource::Receiver};
    SentenceParser parser;
    std::unique_ptr<LineSource> lines;
    std::unique_ptr<QGeoPositionInfoSource> system;
    QString trouble;
    std::deque<HeardLine> heard;
    int sound = 0;
    int refused = 0;
    int refusedInARow = 0;
    bool isGiven = false; ///< a fix was handed in: there is a source though none is set up
    QTimer watch;
};

void PositionFeed::Parts::listenTo(std::unique_ptr<LineSource> source)
{
    lines = std::move(source);
    QObject::connect(lines.get(), &LineSource::line, &feed, &PositionFeed::takeLine);
    QObject::connect(lines.get(), &LineSource::troubled, &feed, [this](const QString &why) {
        trouble = why;
        Q_EMIT feed.changed();
    });
    lines->open();
}

void PositionFeed::Parts::askSystem()
{
    system.reset(QGeoPositionInfoSource::createDefaultSource(nullptr));
    if (!system) {
        trouble = tr("This computer has no position service. Choose a receiver.");
        return;
    }
    QObject::connect(system.get(), &QGeoPositionInfoSource::positionUpdated, &feed,
                     [this](const QGeoPositionInfo &info) { takeSystemFix(info); });
    QObject::connect(system.get(), &QGeoPositionInfoSource::errorOccurred, &feed,
                     [this](QGeoPositionInfoSource::Error error) {
                         if (error != QGeoPositionInfoSource::NoError &&
                             error != QGeoPositionInfoSource::UpdateTimeoutError) {
                             trouble = tr("This computer's position service gives nothing: it is "
                                          "off or not allowed. Choose a receiver.");
                             Q_EMIT feed.changed();
                         }
                     });
    system->setUpdateInterval(systemUpdateMilliseconds);
    system->startUpdates();
}

void PositionFeed::Parts::takeSystemFix(const QGeoPositionInfo &info)
{
    const auto attribute = [&](QGeoPositionInfo::Attribute one) {
        return info.hasAttribute(one) ? std::optional<double>(info.attribute(one)) : std::nullopt;
    };
    PositionFix fix;
    fix.place = {info.coordinate().latitude(), info.coordinate().longitude()};
    if (const auto radius = attribute(QGeoPositionInfo::HorizontalAccuracy);
        radius && std::isfinite(*radius)) {
        fix.accuracy = Metres{*radius};
    }
    fix.speed = attribute(QGeoPositionInfo::GroundSpeed);
    fix.heading = attribute(QGeoPositionInfo::Direction);
    fix.at = wallNow();
    fix.receiverTime = info.timestamp().toUTC();
    // The service may hand out the last place that it knew: its own time says how old it is.
    const qint64 age = info.timestamp().isValid()
                           ? fix.at.utcMilliseconds - info.timestamp().toMSecsSinceEpoch()
                           : 0;
    fix.arrived = steady() - std::max<qint64>(0, age);
    trouble.clear();
    track.take(std::move(fix));
    Q_EMIT feed.changed();
}

void PositionFeed::Parts::keep(HeardLine line)
{
    heard.push_back(std::move(line));
    if (heard.size() > heardKept) {
        heard.pop_front();
    }
    Q_EMIT feed.lineHeard();
}

PositionFeed::PositionFeed(std::function<Moment()> now, QObject *parent)
    : QObject(parent), m_parts(std::make_unique<Parts>(*this, std::move(now)))
{
}

PositionFeed::~PositionFeed() = default;

void PositionFeed::start(const PositionHabits &habits)
{
    stop();
    m_parts->habits = habits;
    m_parts->track = FixTrack(fixSourceOf(habits.source));
    switch (habits.source) {
    case PositionSource::None:
        break;
    case PositionSource::Receiver:
        m_parts->listenTo(std::make_unique<PortSource>(habits.port, habits.baud));
        break;
    case PositionSource::Log:
        m_parts->listenTo(std::make_unique<LogSource>(habits.log, habits.logSpeed));
        break;
    case PositionSource::System:
        m_parts->askSystem();
        break;
    }
    if (habits.source != PositionSource::None) {
        m_parts->watch.start();
    }
    Q_EMIT changed();
}

void PositionFeed::stop()
{
    m_parts->watch.stop();
    m_parts->lines.reset();
    m_parts->system.reset();
    m_parts->habits.source = PositionSource::None;
    m_parts->track = FixTrack(FixSource::Receiver);
    m_parts->trouble.clear();
    m_parts->heard.clear();
    m_parts->sound = 0;
    m_parts->refused = 0;
    m_parts->refusedInARow = 0;
    m_parts->isGiven = false;
    Q_EMIT changed();
}

const PositionHabits &PositionFeed::habits() const
{
    return m_parts->habits;
}

FixState PositionFeed::state() const
{
    if (m_parts->habits.source == PositionSource::None && !m_parts->isGiven) {
        return FixState::NoReceiver;
    }
    return m_parts->track.state(m_parts->steady());
}

std::optional<PositionFix> PositionFeed::current() const
{
    return state() == FixState::Current ? m_parts->track.last() : std::nullopt;
}

std::optional<PositionFix> PositionFeed::last() const
{
    return m_parts->track.last();
}

std::optional<Seconds> PositionFeed::age() const
{
    const auto &fix = m_parts->track.last();
    return fix ? std::optional(ageOf(*fix, m_parts->steady())) : std::nullopt;
}

QString PositionFeed::trouble() const
{
    if (m_parts->trouble.isEmpty() && m_parts->refusedInARow >= refusedBeforeTrouble) {
        return tr("What comes from the receiver cannot be read. Try another baud.");
    }
    return m_parts->trouble;
}

QString PositionFeed::words(UnitSystem units) const
{
    const FixState now = state();
    const auto &fix = m_parts->track.last();
    if (now == FixState::NoReceiver) {
        return tr("No receiver: position is not known");
    }
    if (now == FixState::Waiting || !fix) {
        const QString why = trouble();
        return !why.isEmpty()
                   ? why
                   : (m_parts->sound > 0 ? tr("The receiver looks for satellites: no fix so far")
                                         : tr("Waiting: nothing has come from the %1 so far")
                                               .arg(wordFor(fixSourceOf(m_parts->habits.source))));
    }
    const QString source = m_parts->isGiven ? tr("given") : wordFor(fix->source);
    const QString said = wordsFor(*fix, m_parts->steady(), units);
    switch (now) {
    case FixState::Old:
        return tr("Position is OLD (%1): %2").arg(source, said);
    case FixState::Lost:
        return tr("Position LOST (%1); the last was: %2").arg(source, said);
    default:
        return tr("Position (%1): %2").arg(source, said);
    }
}

const std::deque<HeardLine> &PositionFeed::heard() const
{
    return m_parts->heard;
}

int PositionFeed::soundCount() const
{
    return m_parts->sound;
}

int PositionFeed::refusedCount() const
{
    return m_parts->refused;
}

void PositionFeed::give(PositionFix fix)
{
    m_parts->isGiven = true;
    fix.arrived = m_parts->steady();
    m_parts->track.take(std::move(fix));
    Q_EMIT changed();
}

void PositionFeed::takeLine(const QByteArray &line)
{
    const auto sentence = readNmea(line);
    const QString text = QString::fromLatin1(line.trimmed());
    if (!sentence) {
        ++m_parts->refused;
        ++m_parts->refusedInARow;
        m_parts->keep({text, sentence.error().message, true});
        return;
    }
    ++m_parts->sound;
    m_parts->refusedInARow = 0;
    const auto reading = m_parts->parser.read(*sentence, line);
    if (!reading) {
        m_parts->keep({text, tr("sound, brings no fix"), false});
        return;
    }
    const FixTrack::Outcome outcome =
        m_parts->track.take(*reading, m_parts->wallNow(), m_parts->steady());
    m_parts->keep({text, wordFor(outcome), false});
    if (outcome != FixTrack::Outcome::Repeated && outcome != FixTrack::Outcome::Unusable) {
        Q_EMIT changed();
    }
}

void PositionFeed::setSteadyClock(std::function<std::int64_t()> steady)
{
    m_parts->steady = std::move(steady);
}

} // namespace keyround
