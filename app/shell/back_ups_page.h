// SPDX-License-Identifier: GPL-3.0-or-later
// The back-ups of a project: when each was made, its size, the visits in it, one action to restore
// it. When opening failed because the file is damaged, it says so, and recovers row by row.
#pragma once

#include "core/storage/back_ups.h"

#include <QWidget>

class QLabel;
class QPushButton;
class QTableWidget;

namespace keyround {

class CheckedLine;
class Session;

class BackUpsPage final : public QWidget
{
    Q_OBJECT
public:
    explicit BackUpsPage(Session &session, QWidget *parent = nullptr);

    /// With what went wrong when the project was opened; empty when it was not.
    void showFor(const QString &project, const QString &trouble = {});

Q_SIGNALS:
    /// Another file is the project now, and open.
    void projectReplaced();
    void leaveWanted();

protected:
    void keyPressEvent(QKeyEvent *event) override;

private:
    void build();
    void fillTable();
    void refreshButtons();
    void restore();
    void recover();
    [[nodiscard]] QWidget *keepLines();

    Session &m_session;
    QString m_project;
    std::vector<BackUp> m_backUps; ///< one a row of the table
    QLabel *m_title;
    QLabel *m_trouble;
    QLabel *m_says;
    QTableWidget *m_table;
    QPushButton *m_restore;
    QPushButton *m_recover;
    QPushButton *m_leave;
    QWidget *m_keep = nullptr;
    CheckedLine *m_keepCount = nullptr;
    CheckedLine *m_keepDays = nullptr;
    int m_asked = -1; ///< the row whose restoring was asked for once
};

} // namespace keyround
