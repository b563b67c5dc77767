// SPDX-License-Identifier: GPL-3.0-or-later
// Wrapped words that may need more room than there is: they are moved through upwards and
// downwards, and none is ever cut.
#pragma once

#include <QScrollArea>

namespace keyround {

class WordsArea final : public QScrollArea
{
    Q_OBJECT
public:
    /// `content` lays the words out; the area owns the widget that holds them.
    WordsArea(QLayout *content, const QString &name, QWidget *parent = nullptr);

protected:
    bool eventFilter(QObject *watched, QEvent *event) override;
    void resizeEvent(QResizeEvent *event) override;

private:
    void fit();

    QWidget *m_inner;
};

} // namespace keyround
