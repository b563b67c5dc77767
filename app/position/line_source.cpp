// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/position/line_source.h"

#include "core/fieldlog/nmea.h"

#include <QFileInfo>

#include <algorithm>

namespace keyround {

namespace {

constexpr int lookAgainMilliseconds = 3000;
constexpr qsizetype longestRest = 512;    ///< no sentence is longer: what stands there is noise
constexpr int longestPauseSeconds = 3600; ///< in a log; a longer one is a new day's recording
constexpr int dayMilliseconds = 24 * 3600 * 1000;

} // namespace

PortSource::PortSource(const QString &port, int baud, QObject *parent) : LineSource(parent)
{
    m_port.setPortName(port);
    m_port.setBaudRate(baud);
    m_again.setInterval(lookAgainMilliseconds);
    m_again.setSingleShot(true);
    connect(&m_again, &QTimer::timeout, this, &PortSource::open);
    connect(&m_port, &QSerialPort::readyRead, this, &PortSource::readLines);
    connect(&m_port, &QSerialPort::errorOccurred, this, [this](QSerialPort::SerialPortError error) {
        // A port that was pulled out tells either, by the driver.
        const bool isGone = error == QSerialPort::ResourceError || error == QSerialPort::ReadError;
        if (isGone && m_port.isOpen() && !m_again.isActive()) {
            lookAgain(tr("The receiver on %1 is gone. Plug it in again: it is looked for every 3 "
                         "seconds.")
                          .arg(m_port.portName()));
        }
    });
}

void PortSource::open()
{
    if (m_port.portName().isEmpty()) {
        Q_EMIT troubled(tr("No port is chosen for the receiver. Choose one."));
        return;
    }
    if (!m_port.open(QIODevice::ReadOnly)) {
        lookAgain(tr("The receiver on %1 cannot be opened: %2. Check the port and that no other "
                     "program holds it; it is looked for every 3 seconds.")
                      .arg(m_port.portName(), m_port.errorString()));
        return;
    }
    m_rest.clear();
    Q_EMIT troubled({});
}

void PortSource::lookAgain(const QString &why)
{
    // Closed from the event loop: the port is in the middle of telling its error.
    QMetaObject::invokeMethod(
        this,
        [this] {
            if (m_port.isOpen()) {
                m_port.close();
            }
        },
        Qt::QueuedConnection);
    m_again.start();
    Q_EMIT troubled(why);
}

void PortSource::readLines()
{
    m_rest += m_port.readAll();
    for (qsizetype end = m_rest.indexOf('\n'); end >= 0; end = m_rest.indexOf('\n')) {
        const QByteArray whole = m_rest.left(end + 1);
        m_rest.remove(0, end + 1);
        if (!whole.trimmed().isEmpty()) {
            Q_EMIT line(whole);
        }
    }
    if (m_rest.size() > longestRest) {
        Q_EMIT line(m_rest);
        m_rest.clear();
    }
}

LogSource::LogSource(const QString &path, int speed, QObject *parent)
    : LineSource(parent), m_file(path), m_speed(std::max(1, speed))
{
    m_next.setSingleShot(true);
    connect(&m_next, &QTimer::timeout, this, &LogSource::playOn);
}

void LogSource::open()
{
    if (!m_file.open(QIODevice::ReadOnly)) {
        Q_EMIT troubled(tr("The log %1 cannot be read: %2. Choose another file.")
                            .arg(QFileInfo(m_file).fileName(), m_file.errorString()));
        return;
    }
    Q_EMIT troubled({});
    m_next.start(0);
}

void LogSource::playOn()
{
    if (!m_waiting.isEmpty()) {
        Q_EMIT line(std::exchange(m_waiting, {}));
    }
    while (!m_file.atEnd()) {
        const QByteArray read = m_file.readLine(longestRest);
        if (read.trimmed().isEmpty()) {
            continue;
        }
        const auto sentence = readNmea(read);
        const auto words = sentence ? fixWordsIn(*sentence) : std::nullopt;
        const bool isNext = words && words->time.isValid() && words->time != m_second;
        if (!isNext) {
            Q_EMIT line(read);
            continue;
        }
        const bool isFirst = !m_second.isValid();
        int pause = isFirst ? 0 : m_second.msecsTo(words->time);
        pause = pause < 0 ? pause + dayMilliseconds : pause; // past midnight
        m_second = words->time;
        m_waiting = read;
        m_next.start(pause > longestPauseSeconds * 1000 ? 0 : pause / m_speed);
        return;
    }
    Q_EMIT troubled(tr("The log %1 has ended. Start it again in the position settings.")
                        .arg(QFileInfo(m_file).fileName()));
}

} // namespace keyround
