// SPDX-License-Identifier: GPL-3.0-or-later
// GDAL held at arm's length: its drivers registered once, its messages caught on the thread that
// caused them and never printed, its settings set for a scope. Only core/exchange includes this.
#pragma once

#include <QByteArray>
#include <QString>
#include <QStringList>

#include <cpl_error.h>

#include <utility>

namespace keyround {

/// Registers the drivers that we take, and no others; keeps GDAL off the network. Cheap when called
/// again, from any thread.
void prepareGdal();

/// Collects what GDAL says on this thread while it lives.
class GdalMessages
{
public:
    GdalMessages();
    ~GdalMessages();
    GdalMessages(const GdalMessages &) = delete;
    GdalMessages &operator=(const GdalMessages &) = delete;

    [[nodiscard]] bool failed() const { return !m_failures.isEmpty(); }
    [[nodiscard]] QString firstFailure() const { return m_failures.value(0); }
    [[nodiscard]] const QStringList &warnings() const { return m_warnings; }

private:
    static void CPL_STDCALL take(CPLErr kind, CPLErrorNum number, const char *text);

    QStringList m_failures;
    QStringList m_warnings;
};

/// A GDAL setting that holds on this thread while it lives.
class GdalSetting
{
public:
    GdalSetting(const char *key, const char *value);
    ~GdalSetting();
    GdalSetting(const GdalSetting &) = delete;
    GdalSetting &operator=(const GdalSetting &) = delete;

private:
    const char *m_key;
};

/// A file of GDAL's in memory, gone when this goes. Empty when it holds nothing.
class MemoryFile
{
public:
    MemoryFile() = default;
    /// The name's ending tells GDAL the format; the bytes are kept here as long as the file.
    MemoryFile(QByteArray bytes, const QString &baseName);
    ~MemoryFile();
    MemoryFile(MemoryFile &&other) noexcept
        : m_bytes(std::move(other.m_bytes)), m_path(std::exchange(other.m_path, {}))
    {
    }
    MemoryFile &operator=(MemoryFile &&other) noexcept
    {
        std::swap(m_bytes, other.m_bytes);
        std::swap(m_path, other.m_path);
        return *this;
    }
    MemoryFile(const MemoryFile &) = delete;
    MemoryFile &operator=(const MemoryFile &) = delete;

    [[nodiscard]] const QByteArray &path() const { return m_path; }

private:
    QByteArray m_bytes;
    QByteArray m_path;
};

} // namespace keyround
