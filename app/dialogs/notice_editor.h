// SPDX-License-Identifier: GPL-3.0-or-later
// The wordings of notices, whom customers ask, and how long names and phones are kept. One page of
// the settings panel. A wording is stored when its field is left; an unknown field in braces is
// refused beside it, and the words stay for mending.
#pragma once

#include "core/dayplan/notice_text.h"

#include <QWidget>

#include <functional>

class QComboBox;
class QFormLayout;
class QLabel;
class QListWidget;
class QPlainTextEdit;
class QPushButton;

namespace keyround {

class CheckedLine;
class Session;
class SettingsForm;
struct ProjectSettings;

class NoticeEditor final : public QWidget
{
    Q_OBJECT
public:
    explicit NoticeEditor(Session &session, QWidget *parent = nullptr);

    [[nodiscard]] SettingsForm *form() const { return m_form; }
    [[nodiscard]] QListWidget *list() const { return m_list; }
    [[nodiscard]] QPlainTextEdit *text() const { return m_text; }

    bool eventFilter(QObject *watched, QEvent *event) override;

private:
    [[nodiscard]] QWidget *buildLeft();
    [[nodiscard]] QWidget *buildWording();
    [[nodiscard]] QWidget *buildPurge();
    CheckedLine *addLine(QFormLayout *form, const QString &label, const char *name,
                         QString NoticeTemplate::*field);
    [[nodiscard]] int chosen() const;
    Status change(const QString &what, const std::function<void(NoticeTemplate &)> &edit);
    Status store(ProjectSettings after, const QString &text);
    void takeText();
    void addWording();
    void removeWording();
    void refresh();
    void showChosen(bool isOther);
    void showExample();
    void showPurge();
    void purge();

    Session &m_session;
    SettingsForm *m_form;
    QListWidget *m_list;
    QComboBox *m_kind = nullptr;
    std::vector<std::pair<CheckedLine *, QString NoticeTemplate::*>> m_lines;
    QPlainTextEdit *m_text;
    QLabel *m_refusal;
    QLabel *m_example;
    QLabel *m_purgeWords;
    QPushButton *m_remove = nullptr;
    QPushButton *m_purge = nullptr;
    bool m_isSure = false; ///< the first press of the purge says what it would do
};

} // namespace keyround
